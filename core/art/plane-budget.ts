import { boxHeight, boxWidth } from './box.ts'
import type { Box } from './layer.ts'
import { damaged, type Place } from './place.ts'

/** Throws when a plane of this size is above the budget. */
export function checkBudget(box: Box, depth: number, budget: number, place: Place, at: number): void {
  const need = planeBytes(box, depth)
  if (need > budget)
    throw damaged(
      place,
      at,
      `one plane of ${boxWidth(box)} × ${boxHeight(box)} pixels needs ${mebibytes(need)}, above the memory budget of ${mebibytes(budget)}`,
      'too-large',
      'Raise the memory budget, or save the art at a lower resolution.',
    )
}

/** Memory in words. @param bytes 0 or more */
export const mebibytes = (bytes: number): string => `${Math.ceil(bytes / 2 ** 20)} MiB`

/** Bytes that a plane takes once decoded. */
function planeBytes(box: Box, depth: number): number {
  return boxWidth(box) * boxHeight(box) * Math.max(1, depth / 8)
}
