import type { Rings } from '../../base/polygons.ts'

/** Share of each pixel of a box that lies in rings, row by row, y down. */
export interface PixelShares {
  readonly left: number
  readonly top: number
  readonly width: number
  readonly height: number
  readonly data: Float64Array
}

/**
 * Exact areas: each side adds, in the pixels that it crosses, what lies to its right; sums along the row give the rest.
 * @param rings in pixels, y down, none of them outside x ≥ 0, y ≥ 0; each with its inside on the same hand, holes on the other
 */
export function pixelShares(rings: Rings): PixelShares {
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, 0, 0]
  for (const ring of rings)
    for (const [x, y] of ring) {
      minX = Math.min(minX, x)
      minY = Math.min(minY, y)
      maxX = Math.max(maxX, x)
      maxY = Math.max(maxY, y)
    }
  if (minX > maxX) return { left: 0, top: 0, width: 0, height: 0, data: new Float64Array(0) }
  const [left, top] = [Math.floor(minX), Math.floor(minY)]
  const width = Math.max(1, Math.ceil(maxX) - left)
  const height = Math.max(1, Math.ceil(maxY) - top)
  const stride = width + 2
  const sums = new Float64Array(stride * height)
  for (const ring of rings)
    ring.forEach(([bx, by], i) => {
      const [ax, ay] = ring[(i + ring.length - 1) % ring.length]!
      if (ay < by) addSide(sums, stride, height, 1, ax - left, ay - top, bx - left, by - top)
      else if (ay > by) addSide(sums, stride, height, -1, bx - left, by - top, ax - left, ay - top)
    })
  const data = new Float64Array(width * height)
  for (let y = 0; y < height; y++) {
    let sum = 0
    for (let x = 0; x < width; x++) {
      sum += sums[y * stride + x]!
      data[y * width + x] = Math.abs(sum)
    }
  }
  return { left, top, width, height, data }
}

/** From (ax, ay) down to (bx, by). */
function addSide(
  sums: Float64Array,
  stride: number,
  height: number,
  sense: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): void {
  const slope = (bx - ax) / (by - ay)
  for (let y = Math.floor(ay); y < Math.min(height, Math.ceil(by)); y++) {
    const from = Math.max(y, ay)
    const to = Math.min(y + 1, by)
    if (to <= from) continue
    const x0 = ax + (from - ay) * slope
    const x1 = ax + (to - ay) * slope
    addRow(sums, y * stride, sense * (to - from), Math.min(x0, x1), Math.max(x0, x1))
  }
}

/** A side that crosses `rise` of a row while it goes from x0 to x1 ≥ x0. */
function addRow(sums: Float64Array, row: number, rise: number, x0: number, x1: number): void {
  const first = Math.floor(x0)
  let before = 0
  for (let x = first; x === first || x < x1; x++) {
    // Of this pixel and the part of the side that lies in it or left of it, the share to the right of the side.
    const share = x1 === x0 ? x + 1 - x0 : rightOf(x + 1, x0, x1)
    sums[row + x]! += rise * (share - before)
    before = share
  }
  const last = Math.max(first, Math.ceil(x1) - 1)
  sums[row + last + 1]! += rise * (1 - before)
}

/** Mean over the side of how far it lies left of x, at most one pixel. */
function rightOf(x: number, x0: number, x1: number): number {
  // ∫ clamp(x − s, 0, 1) ds over x0..x1, over its length.
  const upTo = (s: number) => {
    if (s <= x - 1) return s - x0
    const a = Math.max(x0, x - 1)
    const b = Math.min(s, x)
    return a - x0 + (b > a ? ((x - a) ** 2 - (x - b) ** 2) / 2 : 0)
  }
  return upTo(x1) / (x1 - x0)
}
