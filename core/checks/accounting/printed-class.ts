import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { passingOf } from './passing.ts'

/** How much print lets through of holography beneath it. */
export const printedClasses = ['bare', 'tinted', 'half-hidden', 'hidden'] as const

/** Least parts of the metal's light, 0..1, that make each class. */
export interface ClassLimits {
  readonly bare: number
  readonly tinted: number
  readonly halfHidden: number
}

/** Index into {@link printedClasses} at a pixel of a map. */
export type PrintedClass = (column: number, row: number) => number

/** The classes of a map, each worked out once, when it is asked for. */
export function printedClass(
  map: MaterialMap,
  tables: Tables,
  { bare, tinted, halfHidden }: ClassLimits,
): PrintedClass {
  const { width, height } = map
  const passing = passingOf(map, tables)
  const known = new Uint8Array(width * height).fill(unknown)
  return (column, row) => {
    const at = row * width + column
    if (known[at] === unknown) {
      const left = passing(column, row)
      known[at] = left >= bare ? 0 : left >= tinted ? 1 : left >= halfHidden ? 2 : 3
    }
    return known[at]!
  }
}

const unknown = 255
