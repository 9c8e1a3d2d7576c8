import type { Target } from '../roles/role.ts'

/** A place on the panel, mm from its lower left corner, y up. */
export type PointMm = readonly [xMm: number, yMm: number]

/** A shape drawn or imported: closed rings, a ring inside another being a hole (even-odd). */
export interface Outline {
  readonly id: string
  readonly name: string
  readonly rings: readonly (readonly PointMm[])[]
}

/** What an effect can be for. */
export type EffectTarget = Target | { readonly kind: 'outline'; readonly id: string }

/** Outlines of a job, rings of one, and points of a ring: more is a drawing, which belongs into the art. */
export const mostOutlines = 64
export const mostRings = 1000
export const mostPoints = 20_000
/** Coordinates that an outline may have, mm either way. */
export const furthestPoint = 100_000

/** The rectangle around an outline; null without points. */
export function boundsOf({ rings }: Pick<Outline, 'rings'>): {
  readonly leftMm: number
  readonly bottomMm: number
  readonly rightMm: number
  readonly topMm: number
} | null {
  let [leftMm, bottomMm, rightMm, topMm] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const ring of rings)
    for (const [x, y] of ring) {
      leftMm = Math.min(leftMm, x)
      rightMm = Math.max(rightMm, x)
      bottomMm = Math.min(bottomMm, y)
      topMm = Math.max(topMm, y)
    }
  return leftMm > rightMm ? null : { leftMm, bottomMm, rightMm, topMm }
}
