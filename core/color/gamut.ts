import type { Matrix3 } from './matrix.ts'
import { conesToXyz, oklabToRoots } from './oklab.ts'

/** Halvings of the chroma interval: fixed, so that every machine takes the same ones. Chroma is kept to 1 / 1024. */
export const gamutSteps = 10

/** How far outside 0..1 a linear component still counts as inside: above the rounding of 32-bit arithmetic. */
export const gamutSlack = 1e-5

/** From cone responses to luminance. */
export const conesToLuminance = [conesToXyz[3], conesToXyz[4], conesToXyz[5]] as const

/** Whether a linear colour can be shown. */
export function inGamut(r: number, g: number, b: number, slack = gamutSlack): boolean {
  return Math.min(r, g, b) >= -slack && Math.max(r, g, b) <= 1 + slack
}

/**
 * Brings a colour into a display's gamut by lowering its Oklab chroma at constant hue and luminance.
 * Luminance and not Oklab's lightness is held, so that no light gets darker or brighter by being pure:
 * a colour is made paler and then scaled, which leaves its Oklab hue alone.
 * @param luminance  0..1; the colour is shown with it whatever its own is
 * @param conesToRgb from cone responses to the display's linear RGB
 * @param out        gets linear RGB, each in 0..1
 */
export function reduceChroma(
  L: number,
  a: number,
  b: number,
  luminance: number,
  conesToRgb: Matrix3,
  out: Float64Array,
): Float64Array {
  if (!toRgb(L, a, b, luminance, conesToRgb, out)) {
    let kept = 0
    let size = 0.5
    for (let step = 0; step < gamutSteps; step++, size /= 2)
      if (toRgb(L, a * (kept + size), b * (kept + size), luminance, conesToRgb, out)) kept += size
    toRgb(L, a * kept, b * kept, luminance, conesToRgb, out)
  }
  for (let i = 0; i < 3; i++) out[i] = Math.min(1, Math.max(0, out[i]!))
  return out
}

/** Writes linear RGB of an Oklab colour at a luminance and says whether it can be shown. */
function toRgb(
  L: number,
  a: number,
  b: number,
  luminance: number,
  conesToRgb: Matrix3,
  out: Float64Array,
): boolean {
  const root = oklabToRoots
  const rootL = root[0] * L + root[1] * a + root[2] * b
  const rootM = root[3] * L + root[4] * a + root[5] * b
  const rootS = root[6] * L + root[7] * a + root[8] * b
  // Products, since a power would take most of a picture's time here.
  const l = rootL * rootL * rootL
  const m = rootM * rootM * rootM
  const s = rootS * rootS * rootS
  const own = conesToLuminance[0] * l + conesToLuminance[1] * m + conesToLuminance[2] * s
  const scale = luminance / own
  const M = conesToRgb
  const red = scale * (M[0] * l + M[1] * m + M[2] * s)
  const green = scale * (M[3] * l + M[4] * m + M[5] * s)
  const blue = scale * (M[6] * l + M[7] * m + M[8] * s)
  out[0] = red
  out[1] = green
  out[2] = blue
  return inGamut(red, green, blue)
}
