import type { Point } from '../../carton/die.ts'
import type { CheckInput } from '../input.ts'
import { stretch } from '../legibility/object.ts'
import { type ArtLine, artLines } from '../on-art.ts'

/** Mm; boxes that differ by less are one. */
const same = 0.1

/**
 * Sides of the box that a page says it is trimmed to, where nothing is folded; null where it says none, and where that is
 * the page itself: many programs write it so whatever the page is, and as in art without boxes nothing is known of its bleed.
 */
export function trimLines({
  art,
  map,
  blank,
}: Pick<CheckInput, 'art' | 'map' | 'blank'>): readonly ArtLine[] | null {
  const trim = art.page?.trim
  if (blank !== null || !trim) return null
  const [scaleX, scaleY] = stretch(art, map)
  const [left, bottom, right, top] = [trim[0] * scaleX, trim[1] * scaleY, trim[2] * scaleX, trim[3] * scaleY]
  const isWhole = left < same && bottom < same && map.widthMm - right < same && map.heightMm - top < same
  if (isWhole) return null
  const corners: readonly Point[] = [
    [left, bottom],
    [right, bottom],
    [right, top],
    [left, top],
  ]
  const outward: readonly Point[] = [
    [0, -1],
    [1, 0],
    [0, 1],
    [-1, 0],
  ]
  return corners.map((from, i) => ({
    kind: 'cut',
    panel: trimmed,
    from,
    to: corners[(i + 1) % 4]!,
    outward: outward[i]!,
  }))
}

/** What the trim box of a page is called in place of a panel. */
export const trimmed = 'trimmed page'

/** Rules of the die, or the trim box of a page without one. */
export const cutLines = (input: CheckInput): readonly ArtLine[] => trimLines(input) ?? artLines(input)
