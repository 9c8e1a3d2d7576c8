import { checkCancelled, type Task } from '../../base/task.ts'
import { type CoveragePlane, edgePieces, half } from './contour.ts'

/**
 * Distance of each pixel's middle from the edge of a coverage, mm: above 0 inside, below 0 outside, and no farther than
 * `reachMm`. Every pixel near a piece of the edge is measured against it, so within the reach the distance is that of the
 * drawn edge, not of a neighbour's middle: 0.01 mm at 300 ppi.
 * @param pixelMm side of a pixel, > 0
 * @param reachMm ≥ 0; work grows with its square
 * Throws Cancelled when told to stop.
 */
export function edgeDistance(
  plane: CoveragePlane,
  pixelMm: number,
  reachMm: number,
  task?: Task,
): Float32Array {
  const { width, height, data } = plane
  const reach = reachMm / pixelMm
  const squares = new Float32Array(width * height).fill(reach * reach)
  let pieces = 0
  edgePieces(plane, (x0, y0, x1, y1) => {
    if ((++pieces & 0xfff) === 0) checkCancelled(task)
    const left = Math.max(0, Math.ceil(Math.min(x0, x1) - reach))
    const right = Math.min(width - 1, Math.floor(Math.max(x0, x1) + reach))
    const top = Math.max(0, Math.ceil(Math.min(y0, y1) - reach))
    const bottom = Math.min(height - 1, Math.floor(Math.max(y0, y1) + reach))
    const dx = x1 - x0
    const dy = y1 - y0
    const length2 = dx * dx + dy * dy
    for (let y = top; y <= bottom; y++)
      for (let x = left, at = y * width + left; x <= right; x++, at++) {
        const part = length2 === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / length2))
        const ax = x - x0 - part * dx
        const ay = y - y0 - part * dy
        const square = ax * ax + ay * ay
        if (square < squares[at]!) squares[at] = square
      }
  })
  for (let i = 0; i < squares.length; i++)
    squares[i] = Math.sqrt(squares[i]!) * pixelMm * (data[i]! >= half ? 1 : -1)
  return squares
}

/**
 * The same coverage with its edge moved outwards by `spreadMm`, or inwards where that is below 0 (a choke). Tones inside
 * are kept; where it grows it is solid. Edges stay soft over one pixel.
 */
export function moved(plane: CoveragePlane, pixelMm: number, spreadMm: number, task?: Task): Uint8Array {
  const { data } = plane
  if (spreadMm === 0) return data.slice()
  const distance = edgeDistance(plane, pixelMm, Math.abs(spreadMm) + pixelMm, task)
  const out = new Uint8Array(data.length)
  for (let i = 0; i < out.length; i++) {
    const covered = Math.min(1, Math.max(0, 0.5 + (distance[i]! + spreadMm) / pixelMm))
    // Tones inside are the plate's own; the soft pixels of the old edge are none.
    const tone = data[i]! >= half && distance[i]! >= pixelMm ? data[i]! : 255
    out[i] = Math.round(tone * covered)
  }
  return out
}
