import type { Point } from '../die.ts'

/** x' = a x + c y + e, y' = b x + d y + f, in the order in which SVG writes them. */
export type Matrix = readonly [a: number, b: number, c: number, d: number, e: number, f: number]

export const identity: Matrix = [1, 0, 0, 1, 0, 0]

/** First `inner`, then `outer`. */
export function times(outer: Matrix, inner: Matrix): Matrix {
  const [a, b, c, d, e, f] = outer
  const [g, h, i, j, k, l] = inner
  return [a * g + c * h, b * g + d * h, a * i + c * j, b * i + d * j, a * k + c * l + e, b * k + d * l + f]
}

export function at([a, b, c, d, e, f]: Matrix, [x, y]: Point): Point {
  return [a * x + c * y + e, b * x + d * y + f]
}
