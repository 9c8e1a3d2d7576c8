import type { Vector3 } from './matrix.ts'

/** CIE XYZ; Y = 1 is a perfect white diffuser unless said otherwise. */
export type XYZ = Vector3

/** White of a chromaticity, Y = 1. */
export function xyToWhite(x: number, y: number): XYZ {
  return [x / y, 1, (1 - x - y) / y]
}

/** Chromaticity x, y; black has none and gives 0, 0. */
export function chromaticity([X, Y, Z]: XYZ): readonly [number, number] {
  const sum = X + Y + Z
  return sum === 0 ? [0, 0] : [X / sum, Y / sum]
}

/** CIE illuminant D50, 2° observer. Source: CIE 015:2018, table 5 (five decimals). */
export const whiteD50: XYZ = [0.96422, 1, 0.82521]
/** CIE illuminant D65, 2° observer. Source: CIE 015:2018, table 5 (five decimals). */
export const whiteD65: XYZ = [0.95047, 1, 1.08883]
/** White of RGB displays, by its chromaticity. Source: IEC 61966-2-1:1999, section 4.1. */
export const whiteDisplay: XYZ = xyToWhite(0.3127, 0.329)
