import type { Matrix } from '../ink/mark.ts'
import type { PointSource } from './shading-field.ts'
import type { Ramp } from './shading-ramp.ts'

/** Whether the first and the last colour go on beyond the ends. */
export type Extend = readonly [boolean, boolean]

/**
 * Along a line (type 2): colours are the same across it. A line without length paints nothing.
 * Source: ISO 32000-2, 8.7.4.5.3.
 * @param toShading page mm to the space of the shading
 */
export function axialSource(
  ramp: Ramp,
  [x0, y0, x1, y1]: readonly [number, number, number, number],
  extend: Extend,
  [a, b, c, d, e, f]: Matrix,
): PointSource {
  const [dx, dy] = [x1 - x0, y1 - y0]
  const length = dx * dx + dy * dy
  return along(ramp, extend, (x, y) => {
    if (length === 0) return Number.NaN
    return ((a * x + c * y + e - x0) * dx + (b * x + d * y + f - y0) * dy) / length
  })
}

/**
 * Between two circles (type 3): a point has the colour of the last circle through it whose radius is not less than 0.
 * Source: ISO 32000-2, 8.7.4.5.4.
 */
export function radialSource(
  ramp: Ramp,
  [x0, y0, r0, x1, y1, r1]: readonly [number, number, number, number, number, number],
  extend: Extend,
  [a, b, c, d, e, f]: Matrix,
): PointSource {
  const [dx, dy, dr] = [x1 - x0, y1 - y0, r1 - r0]
  // |p − c(s)|² = r(s)²: A s² − 2 B s + C = 0.
  const A = dx * dx + dy * dy - dr * dr
  const flat = Math.abs(A) < 1e-12 * (dx * dx + dy * dy + dr * dr)
  const isShown = (s: number) =>
    Number.isFinite(s) && r0 + s * dr >= 0 && (s >= 0 || extend[0]) && (s <= 1 || extend[1])
  return along(ramp, [true, true], (x, y) => {
    const px = a * x + c * y + e - x0
    const py = b * x + d * y + f - y0
    const B = px * dx + py * dy + r0 * dr
    const C = px * px + py * py - r0 * r0
    if (flat) {
      const s = C / (2 * B)
      return isShown(s) ? s : Number.NaN
    }
    const root = Math.sqrt(B * B - A * C)
    const [one, other] = [(B + root) / A, (B - root) / A]
    const last = Math.max(one, other)
    if (isShown(last)) return last
    const first = Math.min(one, other)
    return isShown(first) ? first : Number.NaN
  })
}

/** @param place along the ramp, 0..1 between its ends; no number where there is none */
function along(ramp: Ramp, [before, after]: Extend, place: (x: number, y: number) => number): PointSource {
  return {
    inks: ramp.inks,
    line: (x, y, step, count, out, painted) => {
      for (let i = 0; i < count; i++) {
        const s = place(x + i * step, y)
        if ((s >= 0 || before) && (s <= 1 || after) && !Number.isNaN(s)) {
          ramp.write(s, out, i)
          painted[i] = 1
        } else painted[i] = 0
      }
    },
  }
}
