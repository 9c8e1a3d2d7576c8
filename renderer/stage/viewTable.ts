import { mostViews } from '../../core/effects/view-image.ts'
import type { ViewSet } from '../../core/material/map.ts'

/** Numbers that hold for a set: views, share of each, depth, groove, middle (2), spread (3). */
export const viewHead = 9
/** Numbers of a view: κ (2) and its change (3). */
export const viewNumbers = 5
/** Entries of a set. */
export const viewStride = viewHead + viewNumbers * mostViews

/** Sets as floats whose bits stand in whole numbers, `viewStride` a set; the shader turns them back. */
export function viewTable(sets: readonly ViewSet[]): Int32Array {
  const numbers = new Float32Array(sets.length * viewStride)
  sets.forEach((set, s) => {
    const count = set.channels.length
    const { grooveDepth, groove, centerXMm, centerYMm, spreadXX, spreadXY, spreadYY } = set
    numbers.set(
      [count, set.share / count, grooveDepth, groove, centerXMm, centerYMm, spreadXX, spreadXY, spreadYY],
      s * viewStride,
    )
    set.channels.forEach(({ kx, ky, xx, xy, yy }, i) => {
      numbers.set([kx, ky, xx, xy, yy], s * viewStride + viewHead + viewNumbers * i)
    })
  })
  return new Int32Array(numbers.buffer)
}
