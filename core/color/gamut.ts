import type { Matrix3 } from './matrix.ts'
import { oklabToRoots } from './oklab.ts'

/** Halvings of the chroma interval: fixed, so that every machine takes the same ones. Chroma is kept to 1 / 1024. */
export const gamutSteps = 10

/** How far outside 0..1 a linear component still counts as inside: above the rounding of 32-bit arithmetic. */
export const gamutSlack = 1e-5

/** Whether a linear colour can be shown. */
export function inGamut(r: number, g: number, b: number): boolean {
  return Math.min(r, g, b) >= -gamutSlack && Math.max(r, g, b) <= 1 + gamutSlack
}

/**
 * Brings a colour into a display's gamut by lowering its Oklab chroma at constant lightness and hue.
 * Colours inside are left alone.
 * @param L          Oklab lightness; above 1 it is taken as 1
 * @param conesToRgb from cone responses to the display's linear RGB
 * @param out        gets linear RGB, each in 0..1
 */
export function reduceChroma(
  L: number,
  a: number,
  b: number,
  conesToRgb: Matrix3,
  out: Float64Array,
): Float64Array {
  const lightness = Math.min(L, 1)
  if (!toRgb(lightness, a, b, conesToRgb, out)) {
    let kept = 0
    let size = 0.5
    for (let step = 0; step < gamutSteps; step++, size /= 2)
      if (toRgb(lightness, a * (kept + size), b * (kept + size), conesToRgb, out)) kept += size
    toRgb(lightness, a * kept, b * kept, conesToRgb, out)
  }
  for (let i = 0; i < 3; i++) out[i] = Math.min(1, Math.max(0, out[i]!))
  return out
}

/** Writes linear RGB of an Oklab colour and says whether it can be shown. */
function toRgb(L: number, a: number, b: number, conesToRgb: Matrix3, out: Float64Array): boolean {
  const root = oklabToRoots
  const rootL = root[0] * L + root[1] * a + root[2] * b
  const rootM = root[3] * L + root[4] * a + root[5] * b
  const rootS = root[6] * L + root[7] * a + root[8] * b
  // Products, since a power would take most of a picture's time here.
  const l = rootL * rootL * rootL
  const m = rootM * rootM * rootM
  const s = rootS * rootS * rootS
  const M = conesToRgb
  const red = M[0] * l + M[1] * m + M[2] * s
  const green = M[3] * l + M[4] * m + M[5] * s
  const blue = M[6] * l + M[7] * m + M[8] * s
  out[0] = red
  out[1] = green
  out[2] = blue
  return inGamut(red, green, blue)
}
