import { apply, invert, type Matrix3 } from './matrix.ts'
import type { XYZ } from './xyz.ts'

/** Oklab: lightness 0..1, then two opponent axes. */
export type Oklab = readonly [number, number, number]

/** XYZ (D65) to cone responses. Source: CSS Color Module Level 4, section 18 (sample code); Ottosson 2020. */
export const xyzToCones: Matrix3 = [
  0.819022437996703, 0.3619062600528904, -0.1288737815209879, 0.0329836539323885, 0.9292868615863434,
  0.0361446663506424, 0.0481771893596242, 0.2642395317527308, 0.6335478284694309,
]
/** Cube roots of cone responses to Oklab. Source: the same. */
export const rootsToOklab: Matrix3 = [
  0.210454268309314, 0.7936177747023054, -0.0040720430116193, 1.9779985324311684, -2.4285922420485799,
  0.450593709617411, 0.0259040424655478, 0.7827717124575296, -0.8086757549230774,
]
export const conesToXyz: Matrix3 = invert(xyzToCones)
export const oklabToRoots: Matrix3 = invert(rootsToOklab)

/** Oklab of XYZ relative to the D65 white with Y = 1. */
export function xyzToOklab(xyz: XYZ): Oklab {
  const [l, m, s] = apply(xyzToCones, xyz)
  return apply(rootsToOklab, [Math.cbrt(l), Math.cbrt(m), Math.cbrt(s)])
}

/** XYZ relative to the D65 white with Y = 1. */
export function oklabToXyz(lab: Oklab): XYZ {
  const [l, m, s] = apply(oklabToRoots, lab)
  return apply(conesToXyz, [l ** 3, m ** 3, s ** 3])
}
