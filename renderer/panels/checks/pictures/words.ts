import type { Group } from '../../../../core/checks/register/groups.ts'
import type { Halo } from '../../../../core/checks/register/halo.ts'
import type { Pair } from '../../../../core/checks/register/tolerance.ts'

export const groupWords: Readonly<Record<Group, string>> = {
  holography: 'Holography',
  white: 'White',
  colour: 'Inks',
  die: 'Cut',
}

/** `Inks and white` */
export const pairWords = ([a, b]: Pair): string => `${groupWords[a]} and ${groupWords[b].toLowerCase()}`

export const haloWords: Readonly<Record<Halo, string>> = { foil: 'metal shows', white: 'white shows' }

/** What outlines on the table are called. */
export const haloColors: Readonly<Record<Halo, { readonly name: string; readonly css: string }>> = {
  foil: { name: 'orange', css: '#ff9a1f' },
  white: { name: 'blue', css: '#3d8bff' },
}

/** `0.42 mm`, `12 mm²`, `4.1 cm²`: three figures at most. */
export const measured = (value: number, unit: string): string =>
  `${value.toFixed(value < 10 ? 1 : 0)} ${unit}`

/** What is there is never 0 %, and what lacks a little never 100 %. */
export function shareWords(share: number): string {
  const whole = Math.round(100 * share)
  if (share > 0 && whole === 0) return 'under 1\u00a0%'
  return share < 1 && whole === 100 ? 'over 99\u00a0%' : `${whole}\u00a0%`
}
