import { grown, type Rings, without } from '../../base/polygons.ts'
import type { Point } from '../../carton/die.ts'
import type { CheckInput } from '../input.ts'

/**
 * What is cut, seen from the art: all panels of the blank as one, without their windows, mm from the art's lower left
 * corner. Where the art lies on the blank more than once, the place that shows most of its panels. Null without a blank.
 */
export function dieRings({ blank, corners }: Pick<CheckInput, 'blank' | 'corners'>): Rings | null {
  if (blank === null || corners.size === 0) return null
  const counts = new Map<string, { readonly corner: Point; count: number }>()
  for (const corner of corners.values()) {
    const known = counts.get(corner.join(' '))
    if (known) known.count++
    else counts.set(corner.join(' '), { corner, count: 1 })
  }
  const [first, ...others] = [...counts.values()]
  const most = others.reduce((best, one) => (one.count > best.count ? one : best), first!)
  const [x0, y0] = most.corner
  const fromArt = (ring: readonly Point[]) => ring.map(([x, y]): Point => [x - x0, y - y0])
  const board = grown(
    blank.panels.map(panel => fromArt(panel.outline)),
    0,
  )
  const windows = blank.panels.flatMap(panel => (panel.windows ?? []).map(fromArt))
  return windows.length === 0 ? board : without(board, windows)
}
