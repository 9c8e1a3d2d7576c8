import type { BoxMm } from '../../core/checks/finding.ts'
import { wholeView, type Zoom } from '../../core/reference/camera.ts'
import { type Look, lookAt, pixelOver } from '../stage/place.ts'

/** Part of the free table that a box fills when it is looked at. */
const fillsTable = 0.4
const closest = 12

/**
 * The view that brings a box of the art into the middle of the table that is in sight, large enough to be looked at.
 * Null where no leaf of a folded carton shows any of it.
 * @param coveredPx how much of the table a sheet covers from the right, CSS pixels
 * @param fills     part of what is free that the box fills, 0..1
 */
export function zoomOn(look: Look, box: BoxMm, coveredPx: number, fills = fillsTable): Zoom | null {
  const { width, height } = look
  const whole = lookAt(look.scene, look.panel, wholeView, width, height)
  const pixels = aroundBox(box, 2).flatMap(([x, y]) => pixelOver(whole, x, y) ?? [])
  const xs = pixels.filter((_, i) => i % 2 === 0)
  const ys = pixels.filter((_, i) => i % 2 === 1)
  if (xs.length === 0) return null
  const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)]
  const free = Math.max(width - coveredPx, width / 4)
  const scale = Math.min(
    closest,
    Math.max(1, Math.min((fills * free) / (right - left || 1), (fills * height) / (bottom - top || 1))),
  )
  // Places are halves of the view's height from its middle; the box stands in the middle of what is free.
  return {
    scale,
    x: (left + right - width) / height + (width - free) / height / scale,
    y: (height - top - bottom) / height,
  }
}

/** Places along a box, all round, `steps` a side. */
export function aroundBox(
  { leftMm, bottomMm, rightMm, topMm }: BoxMm,
  steps: number,
): readonly (readonly [xMm: number, yMm: number])[] {
  const corners = [
    [leftMm, bottomMm],
    [rightMm, bottomMm],
    [rightMm, topMm],
    [leftMm, topMm],
  ] as const
  return corners.flatMap(([x, y], i) => {
    const [toX, toY] = corners[(i + 1) % 4] ?? [x, y]
    return Array.from({ length: steps }, (_, k) => {
      const t = k / steps
      return [x + t * (toX - x), y + t * (toY - y)] as const
    })
  })
}
