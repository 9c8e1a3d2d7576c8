import { BadInput } from '../../base/finding.ts'
import type { Ink } from '../ink/mark.ts'
import type { InkSet } from './reading.ts'

/** Inks that every page has, by the numbers 0 to 3. */
export const processInks = ['Cyan', 'Magenta', 'Yellow', 'Black'] as const

/** What a file says of an ink beside its colour. */
export type InkHint = Pick<Ink, 'solidity' | 'order'>

/** Planes that one page may have; more would fill the memory before anything could be seen. */
export const mostInks = 64

/**
 * The inks of a page, at first the process inks alone. Throws BadInput `too-many-inks` beyond {@link mostInks}.
 * @param hints by the names of inks
 */
export function makeInkSet(file: string, hints: ReadonlyMap<string, InkHint> = new Map()): InkSet {
  const list: Ink[] = []
  const numbers = new Map<string, number>()
  const add = (name: string, alternate: Ink['alternate']): number => {
    if (list.length === mostInks)
      throw new BadInput(
        'too-many-inks',
        file,
        `ink "${name}"`,
        `the page has more than ${mostInks} inks`,
        'Save it with the inks that are printed, and join those that are one ink',
      )
    const hint = hints.get(name)
    list.push({ name, alternate, solidity: hint?.solidity ?? null, order: hint?.order ?? null })
    numbers.set(name, list.length - 1)
    return list.length - 1
  }
  for (const name of processInks) add(name, null)
  return { list, numberOf: (name, alternate) => numbers.get(name) ?? add(name, alternate()) }
}
