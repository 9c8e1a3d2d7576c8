import type { Box } from './layer.ts'

/** Pixels; none where the box is turned inside out. */
export const boxWidth = (box: Box): number => Math.max(0, box.right - box.left)
export const boxHeight = (box: Box): number => Math.max(0, box.bottom - box.top)

/** What two boxes share; empty where they share nothing. */
export function intersect(a: Box, b: Box): Box {
  const left = Math.max(a.left, b.left)
  const top = Math.max(a.top, b.top)
  return {
    left,
    top,
    right: Math.max(left, Math.min(a.right, b.right)),
    bottom: Math.max(top, Math.min(a.bottom, b.bottom)),
  }
}
