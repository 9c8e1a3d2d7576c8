import type { Matrix } from './mark.ts'

export const identity: Matrix = [1, 0, 0, 1, 0, 0]

/** First `inner`, then `outer`. */
export function times(inner: Matrix, outer: Matrix): Matrix {
  const [a, b, c, d, e, f] = inner
  const [A, B, C, D, E, F] = outer
  return [a * A + b * C, a * B + b * D, c * A + d * C, c * B + d * D, e * A + f * C + E, e * B + f * D + F]
}

/** Where a point goes. */
export function at([a, b, c, d, e, f]: Matrix, x: number, y: number): readonly [number, number] {
  return [a * x + c * y + e, b * x + d * y + f]
}

/** The way back; null where everything falls onto a line. */
export function inverse([a, b, c, d, e, f]: Matrix): Matrix | null {
  const area = a * d - b * c
  if (!Number.isFinite(1 / area)) return null
  return [d / area, -b / area, -c / area, a / area, (c * f - d * e) / area, (b * e - a * f) / area]
}
