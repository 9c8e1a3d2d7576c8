import type { CartonStyle } from './spec.ts'
import { crashLock } from './styles/crash-lock.ts'
import { reverseTuck } from './styles/reverse-tuck.ts'
import { sealEnd } from './styles/seal-end.ts'
import { sleeve } from './styles/sleeve.ts'
import { snapLock } from './styles/snap-lock.ts'
import { straightTuck } from './styles/straight-tuck.ts'

export const cartonStyles = [straightTuck, reverseTuck, snapLock, crashLock, sealEnd, sleeve] as const

export type StyleName = (typeof cartonStyles)[number]['name']

/** A style of a name; undefined where there is none. */
export function styleNamed(name: string): CartonStyle | undefined {
  return cartonStyles.find(style => style.name === name)
}
