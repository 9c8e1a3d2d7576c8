import { apply, diagonal, invert, type Matrix3, multiply } from './matrix.ts'
import type { XYZ } from './xyz.ts'

/** XYZ to sharpened cone responses. Source: Lam 1985, as printed in ICC.1:2022, annex E.3. */
const bradford: Matrix3 = [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296]

/**
 * The linear Bradford transform: takes XYZ seen under `from` to the XYZ that looks the same under `to`.
 * Source: ICC.1:2022, annex E.3.
 */
export function adaptation(from: XYZ, to: XYZ): Matrix3 {
  const source = apply(bradford, from)
  const target = apply(bradford, to)
  const gain = diagonal([target[0] / source[0], target[1] / source[1], target[2] / source[2]])
  return multiply(invert(bradford), multiply(gain, bradford))
}
