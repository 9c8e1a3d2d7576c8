/** The panel that the demo art covers: a carton front, finished size. */
export const widthMm = 100
export const heightMm = 150
export const ppi = 300
export const width = 1181
export const height = 1772
/** Pixels a millimetre. */
export const scale = ppi / 25.4

/** One number a pixel of the page, row by row from the top, 0..1. */
export type Cover = Float32Array
export const blank = (): Cover => new Float32Array(width * height)

/** Middle of pixel `i`, mm from the lower left corner, y up. */
export const xOf = (i: number): number => ((i % width) + 0.5) / scale
export const yOf = (i: number): number => (height - Math.floor(i / width) - 0.5) / scale

export type Point = readonly [number, number]

/**
 * Adds a shape to a coverage, edges softened over one pixel.
 * @param distance  to the shape's edge, mm, negative inside
 * @param reach     box that the shape stays in: x0, y0, x1, y1, mm
 */
export function addShape(
  cover: Cover,
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  distance: (x: number, y: number) => number,
  strength = 1,
): void {
  const left = Math.max(0, Math.floor(x0 * scale) - 1)
  const right = Math.min(width, Math.ceil(x1 * scale) + 1)
  const top = Math.max(0, Math.floor(height - y1 * scale) - 1)
  const bottom = Math.min(height, Math.ceil(height - y0 * scale) + 1)
  for (let row = top; row < bottom; row++)
    for (let column = left; column < right; column++) {
      const i = row * width + column
      const share = Math.min(1, Math.max(0, 0.5 - distance(xOf(i), yOf(i)) * scale)) * strength
      if (share > cover[i]!) cover[i] = share
    }
}

export function addDisc(cover: Cover, [x, y]: Point, r: number, strength = 1): void {
  addShape(cover, [x - r, y - r, x + r, y + r], (px, py) => Math.hypot(px - x, py - y) - r, strength)
}

export function addRing(cover: Cover, [x, y]: Point, inner: number, outer: number, strength = 1): void {
  const middle = (inner + outer) / 2
  const half = (outer - inner) / 2
  addShape(
    cover,
    [x - outer, y - outer, x + outer, y + outer],
    (px, py) => Math.abs(Math.hypot(px - x, py - y) - middle) - half,
    strength,
  )
}

export function addLine(cover: Cover, a: Point, b: Point, thickness: number, strength = 1): void {
  const dx = b[0] - a[0]
  const dy = b[1] - a[1]
  const length2 = dx * dx + dy * dy
  const r = thickness / 2
  addShape(
    cover,
    [Math.min(a[0], b[0]) - r, Math.min(a[1], b[1]) - r, Math.max(a[0], b[0]) + r, Math.max(a[1], b[1]) + r],
    (x, y) => {
      const t = length2 > 0 ? Math.min(1, Math.max(0, ((x - a[0]) * dx + (y - a[1]) * dy) / length2)) : 0
      return Math.hypot(x - a[0] - t * dx, y - a[1] - t * dy) - r
    },
    strength,
  )
}

/** A rectangle with round corners; only its outline where `line` (mm) is given. */
export function addBox(
  cover: Cover,
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  corner: number,
  line?: number,
): void {
  const [cx, cy] = [(x0 + x1) / 2, (y0 + y1) / 2]
  const [hx, hy] = [(x1 - x0) / 2 - corner, (y1 - y0) / 2 - corner]
  const edge = (x: number, y: number) => {
    const [dx, dy] = [Math.abs(x - cx) - hx, Math.abs(y - cy) - hy]
    return Math.hypot(Math.max(dx, 0), Math.max(dy, 0)) + Math.min(Math.max(dx, dy), 0) - corner
  }
  const m = line ?? 0
  addShape(cover, [x0 - m, y0 - m, x1 + m, y1 + m], (x, y) =>
    line === undefined ? edge(x, y) : Math.abs(edge(x, y)) - line / 2,
  )
}

/** 0 below a, 1 above b, smooth between; works for a > b too. */
export function smooth(a: number, b: number, x: number): number {
  const t = Math.min(1, Math.max(0, (x - a) / (b - a)))
  return t * t * (3 - 2 * t)
}

export const mix = (a: number, b: number, t: number): number => a + (b - a) * t

/** Smooth noise in 0..1, the same on every machine: whole-number hashes at the corners of unit cells. */
export function noise(x: number, y: number): number {
  const [cx, cy] = [Math.floor(x), Math.floor(y)]
  const [fx, fy] = [smooth(0, 1, x - cx), smooth(0, 1, y - cy)]
  return mix(mix(hash(cx, cy), hash(cx + 1, cy), fx), mix(hash(cx, cy + 1), hash(cx + 1, cy + 1), fx), fy)
}

/** A number in 0..1 for a pair of whole numbers. */
export function hash(x: number, y: number): number {
  let h = Math.imul(x, 0x27d4eb2d) ^ Math.imul(y, 0x165667b1)
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d)
  h = Math.imul(h ^ (h >>> 12), 0x297a2d39)
  return ((h ^ (h >>> 15)) >>> 0) / 2 ** 32
}
