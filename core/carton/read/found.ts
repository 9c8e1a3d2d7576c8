import type { Hinge } from '../blank.ts'
import type { Outline } from '../die.ts'
import { boxOf } from '../outline.ts'
import type { NamedPanel } from './panel-names.ts'

/** What a drawing has been found to hold. */
export interface Found {
  readonly hinges: readonly Hinge[]
  readonly names: readonly NamedPanel[]
  /** By the name of a panel. */
  readonly outlines: ReadonlyMap<string, Outline>
  readonly caliperMm: number
}

/** The crease between two panels, whichever is nearer to the root. */
export const creaseBetween = ({ hinges }: Pick<Found, 'hinges'>, a: string, b: string): Hinge | undefined =>
  hinges.find(({ parent, child }) => (parent === a && child === b) || (parent === b && child === a))

/** How far one flap's crease lies outward of another's beside it, mm: toward where its own leaf is. */
export function outwardOf({ from, to }: Hinge, other: Hinge, outline: Outline): number {
  const [left, bottom, right, top] = boxOf(outline)
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const aside = (x: number, y: number) =>
    ((x - from[0]) * (to[1] - from[1]) - (y - from[1]) * (to[0] - from[0])) / length
  const outward = Math.sign(aside((left + right) / 2, (bottom + top) / 2))
  return -outward * aside((other.from[0] + other.to[0]) / 2, (other.from[1] + other.to[1]) / 2)
}
