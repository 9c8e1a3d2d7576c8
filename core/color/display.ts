import { adaptation } from './adapt.ts'
import { inGamut, reduceChroma } from './gamut.ts'
import { diagonal, type Matrix3, multiply } from './matrix.ts'
import { conesToXyz, rootsToOklab, xyzToCones } from './oklab.ts'
import { encodeFast, type Gamut, rgbSpaces } from './rgb.ts'
import { judgedLuminance, knee, shownLuminance, toJudged } from './tone.ts'
import { whiteD50, whiteDisplay, type XYZ } from './xyz.ts'

/** How light becomes a picture on a screen. */
export interface DisplaySettings {
  /** Stops; 0 puts paper white under `anchorLux` at 0.8 of the display's white. */
  readonly exposureStops: number
  /** Illuminance that the exposure is set for; null or left out = the scene's own. */
  readonly anchorLux?: number | null
  /** Adapt the eye from the lamp's white to the screen's; else the lamp's tint is shown against the screen's white. */
  readonly adapt: boolean
  readonly gamut: Gamut
  /** White that the screen is set to; left out = D65. Code values are relative to it, as colour management has them. */
  readonly displayWhite?: 'D65' | 'D50'
}

/** The settings as matrices. Each starts at scene XYZ in units of paper white under the lamp, unless named otherwise. */
export interface DisplayTransform {
  /** To the exposed parts that brightness is judged by, whatever the screen; see tone.ts. */
  readonly toJudged: Matrix3
  /** To exposed linear RGB of the screen. */
  readonly toRgb: Matrix3
  /** To exposed cone responses. */
  readonly toCones: Matrix3
  /** From cone responses to linear RGB of the screen. */
  readonly conesToRgb: Matrix3
}

/** @param totalLux illuminance of the scene's paper white, which has Y = 1; null where nothing is anchored */
export function displayTransform(
  settings: DisplaySettings,
  lampWhite: XYZ,
  totalLux: number | null = null,
): DisplayTransform {
  const anchored = totalLux === null ? 1 : totalLux / (settings.anchorLux ?? totalLux)
  const gain = knee * 2 ** settings.exposureStops * anchored
  const screenWhite = settings.displayWhite === 'D50' ? whiteD50 : whiteDisplay
  const exposed = multiply(
    diagonal([gain, gain, gain]),
    adaptation(settings.adapt ? lampWhite : screenWhite, whiteDisplay),
  )
  const { fromXyz } = rgbSpaces[settings.gamut]
  return {
    toJudged: multiply(toJudged, exposed),
    toRgb: multiply(fromXyz, exposed),
    toCones: multiply(xyzToCones, exposed),
    conesToRgb: multiply(fromXyz, conesToXyz),
  }
}

/**
 * Encoded RGB of one colour, each in 0..1: exposure and adaptation, highlights compressed in luminance, chroma reduced
 * into the screen's gamut at constant hue, transfer curve. Added light is never shown darker, as long as it lies inside
 * the triangle of {@link toJudged}, which all of Display-P3 does.
 * @param out gets the three values at 0, 1, 2
 */
export function displayColor(
  transform: DisplayTransform,
  X: number,
  Y: number,
  Z: number,
  out: Float64Array,
): Float64Array {
  const j = transform.toJudged
  const redPart = j[0] * X + j[1] * Y + j[2] * Z
  const greenPart = j[3] * X + j[4] * Y + j[5] * Z
  const luminance = shownLuminance(redPart, greenPart, j[6] * X + j[7] * Y + j[8] * Z)
  const own = judgedLuminance(redPart, greenPart)
  if (!(luminance > 0 && own > 0)) return out.fill(0, 0, 3)
  const scale = luminance / own
  const m = transform.toRgb
  const red = scale * (m[0] * X + m[1] * Y + m[2] * Z)
  const green = scale * (m[3] * X + m[4] * Y + m[5] * Z)
  const blue = scale * (m[6] * X + m[7] * Y + m[8] * Z)
  if (inGamut(red, green, blue)) {
    out[0] = Math.min(1, Math.max(0, red))
    out[1] = Math.min(1, Math.max(0, green))
    out[2] = Math.min(1, Math.max(0, blue))
  } else {
    const c = transform.toCones
    const l = Math.cbrt(c[0] * X + c[1] * Y + c[2] * Z)
    const n = Math.cbrt(c[3] * X + c[4] * Y + c[5] * Z)
    const s = Math.cbrt(c[6] * X + c[7] * Y + c[8] * Z)
    const o = rootsToOklab
    const L = o[0] * l + o[1] * n + o[2] * s
    const a = o[3] * l + o[4] * n + o[5] * s
    const b = o[6] * l + o[7] * n + o[8] * s
    reduceChroma(L, a, b, luminance, transform.conesToRgb, out)
  }
  out[0] = encodeFast(out[0]!)
  out[1] = encodeFast(out[1]!)
  out[2] = encodeFast(out[2]!)
  return out
}
