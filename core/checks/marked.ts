import { boundsOf, type Outline } from '../effects/outline.ts'
import type { BoxMm } from './finding.ts'

/**
 * What an area is marked as by hand: print that is to be read, a code for a scanner, a colour that must hold, or a place
 * that is kept clear, as for a date that is printed when the carton is filled.
 */
export const markKinds = ['text', 'code', 'brand-colour', 'plain'] as const
export type MarkKind = (typeof markKinds)[number]

/** An area that somebody marked, where art alone does not say what it is for. */
export interface MarkedArea {
  /** Unique in a job. */
  readonly name: string
  /** A {@link MarkKind}, or one of a later version: that is kept and judged by nobody. */
  readonly kind: string
  /** Mm from the art's lower left corner, y up. */
  readonly shape:
    | { readonly kind: 'box'; readonly box: BoxMm }
    | { readonly kind: 'outline'; readonly rings: Outline['rings'] }
}

/** The smallest box around a marked area; null where it is empty. */
export const markedBox = ({ shape }: Pick<MarkedArea, 'shape'>): BoxMm | null =>
  shape.kind === 'box' ? shape.box : boundsOf(shape)

/** The same area, mm to the right and up. */
export function movedMark(area: MarkedArea, xMm: number, yMm: number): MarkedArea {
  if (area.shape.kind === 'outline') {
    const rings = area.shape.rings.map(ring => ring.map(([x, y]) => [x + xMm, y + yMm] as const))
    return { ...area, shape: { kind: 'outline', rings } }
  }
  const { leftMm, bottomMm, rightMm, topMm } = area.shape.box
  const box = {
    leftMm: leftMm + xMm,
    bottomMm: bottomMm + yMm,
    rightMm: rightMm + xMm,
    topMm: topMm + yMm,
  }
  return { ...area, shape: { kind: 'box', box } }
}
