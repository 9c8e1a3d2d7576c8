import { adaptation } from './adapt.ts'
import { inGamut, reduceChroma } from './gamut.ts'
import { diagonal, type Matrix3, multiply } from './matrix.ts'
import { conesToXyz, rootsToOklab, xyzToCones } from './oklab.ts'
import { encode, type Gamut, rgbSpaces } from './rgb.ts'
import { knee, tone, whitening } from './tone.ts'
import { whiteDisplay, type XYZ } from './xyz.ts'

/** How light becomes a picture on a screen. */
export interface DisplaySettings {
  /** Stops; 0 puts paper white under `anchorLux` at 0.8 of the display's white. */
  readonly exposureStops: number
  /** Illuminance that the exposure is set for; null or left out = the scene's own. */
  readonly anchorLux?: number | null
  /** Adapt the eye from the lamp's white to the screen's. */
  readonly adapt: boolean
  readonly gamut: Gamut
}

/** The settings as matrices. Each starts at scene XYZ in units of paper white under the lamp, unless named otherwise. */
export interface DisplayTransform {
  /** To exposed linear Display-P3, where brightness is judged whatever the screen. */
  readonly toP3: Matrix3
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
  const exposed = multiply(
    diagonal([gain, gain, gain]),
    settings.adapt ? adaptation(lampWhite, whiteDisplay) : diagonal([1, 1, 1]),
  )
  const { fromXyz } = rgbSpaces[settings.gamut]
  return {
    toP3: multiply(rgbSpaces['display-p3'].fromXyz, exposed),
    toRgb: multiply(fromXyz, exposed),
    toCones: multiply(xyzToCones, exposed),
    conesToRgb: multiply(fromXyz, conesToXyz),
  }
}

/**
 * Encoded RGB of one colour, each in 0..1: exposure and adaptation, highlight compression by the largest
 * Display-P3 component, late whitening, chroma reduced into the screen's gamut, transfer curve.
 * @param out gets the three values at 0, 1, 2
 */
export function displayColor(
  transform: DisplayTransform,
  X: number,
  Y: number,
  Z: number,
  out: Float64Array,
): Float64Array {
  const p = transform.toP3
  const largest = Math.max(
    p[0] * X + p[1] * Y + p[2] * Z,
    p[3] * X + p[4] * Y + p[5] * Z,
    p[6] * X + p[7] * Y + p[8] * Z,
  )
  const scale = largest > knee ? tone(largest) / largest : 1
  const white = whitening(largest)
  const m = transform.toRgb
  const red = scale * (m[0] * X + m[1] * Y + m[2] * Z)
  const green = scale * (m[3] * X + m[4] * Y + m[5] * Z)
  const blue = scale * (m[6] * X + m[7] * Y + m[8] * Z)
  if (white === 0 && inGamut(red, green, blue)) {
    out[0] = Math.min(1, Math.max(0, red))
    out[1] = Math.min(1, Math.max(0, green))
    out[2] = Math.min(1, Math.max(0, blue))
  } else {
    const c = transform.toCones
    const l = Math.cbrt(scale * (c[0] * X + c[1] * Y + c[2] * Z))
    const n = Math.cbrt(scale * (c[3] * X + c[4] * Y + c[5] * Z))
    const s = Math.cbrt(scale * (c[6] * X + c[7] * Y + c[8] * Z))
    const o = rootsToOklab
    const L = o[0] * l + o[1] * n + o[2] * s
    const a = o[3] * l + o[4] * n + o[5] * s
    const b = o[6] * l + o[7] * n + o[8] * s
    reduceChroma(L + (1 - L) * white, a * (1 - white), b * (1 - white), transform.conesToRgb, out)
  }
  out[0] = encode(out[0]!)
  out[1] = encode(out[1]!)
  out[2] = encode(out[2]!)
  return out
}
