import type { XYZ } from './xyz.ts'

/** CIELAB: L* in 0..100, a*, b*. */
export type Lab = readonly [number, number, number]

const δ = 6 / 29

function f(t: number): number {
  return t > δ * δ * δ ? Math.cbrt(t) : t / (3 * δ * δ) + 4 / 29
}

/** A tristimulus value over the white's, from its root as L*, a* and b* are made of: (L* + 16) / 116 and so on. */
export function fromRoot(t: number): number {
  return t > δ ? t * t * t : 3 * δ * δ * (t - 4 / 29)
}

/**
 * CIELAB of a colour against a white; the two in the same units.
 * Source: CIE 015:2018, section 8.2.1 (ISO/CIE 11664-4).
 */
export function xyzToLab([X, Y, Z]: XYZ, [Xn, Yn, Zn]: XYZ): Lab {
  const fx = f(X / Xn)
  const fy = f(Y / Yn)
  const fz = f(Z / Zn)
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)]
}

/** The way back, to the units of the white. */
export function labToXyz([L, a, b]: Lab, [Xn, Yn, Zn]: XYZ): XYZ {
  const fy = (L + 16) / 116
  return [Xn * fromRoot(fy + a / 500), Yn * fromRoot(fy), Zn * fromRoot(fy - b / 200)]
}
