import type { Point } from '../../carton/die.ts'
import type { ScanProfile } from './profile.ts'
import type { Readable } from './surface.ts'

/** Where a symbol lies: reading direction and bars are at right angles. Mm from the art's lower left corner. */
export interface SymbolFrame {
  /** Outer corner of the first bar, above in reading direction. */
  readonly start: Point
  /** Unit vectors in reading direction, and along the bars from above down. */
  readonly across: Point
  readonly down: Point
  readonly lengthMm: number
  readonly heightMm: number
}

/** A scan line: it starts `fromMm` before the first bar. */
export interface ScanLine {
  readonly fromMm: number
  readonly stepMm: number
  readonly profile: ScanProfile
}

/** Lines over a symbol, and where they may lie: the inspection band leaves a tenth of the bars above and below. Source: ISO/IEC 15416. */
export const scanLines = 10
const band = [0.1, 0.9] as const
/** Part of the bars' height at which each line runs. */
export const lineHeights: readonly number[] = Array.from(
  { length: scanLines },
  (_, i) => band[0] + ((band[1] - band[0]) * (i + 0.5)) / scanLines,
)

/** Samples over the smallest module. */
const perModule = 12
/** Points across the measuring aperture: enough that a hole of a fine screen has several. */
const acrossAperture = 12

/** Aperture's part of the smallest module. Source: general guidance to ISO/IEC 15416, two secondary pages. */
export const aperturePart = 0.8

/** Aperture as a report names it: thousandths of an inch, two digits. */
export const apertureName = (diameterMm: number): string =>
  String(Math.round((diameterMm / 25.4) * 1000)).padStart(2, '0')

/**
 * Reflectance along one line: each sample is the mean over the round aperture.
 * @param height part of the bars' height, from above
 * @param before,after light margin that is scanned with the symbol, mm
 */
export function scanAcross(
  surface: Readable,
  frame: SymbolFrame,
  height: number,
  moduleMm: number,
  before: number,
  after: number,
): ScanLine {
  const stepMm = moduleMm / perModule
  const { start, across, down, lengthMm, heightMm } = frame
  const x0 = start[0] + down[0] * heightMm * height - across[0] * before
  const y0 = start[1] + down[1] * heightMm * height - across[1] * before
  const count = Math.ceil((before + lengthMm + after) / stepMm) + 1
  const [xs, ys] = apertureSpots(aperturePart * moduleMm)
  const profile = new Float64Array(count)
  for (let i = 0; i < count; i++) {
    const x = x0 + across[0] * stepMm * i
    const y = y0 + across[1] * stepMm * i
    let sum = 0
    for (let k = 0; k < xs.length; k++) sum += surface.at(x + xs[k]!, y + ys[k]!)
    profile[i] = sum / xs.length
  }
  return { fromMm: before, stepMm, profile }
}

/** Points of the aperture, evenly over its disc. */
function apertureSpots(diameter: number): readonly [x: Float64Array, y: Float64Array] {
  const xs: number[] = []
  const ys: number[] = []
  const step = diameter / acrossAperture
  for (let j = 0; j < acrossAperture; j++)
    for (let i = 0; i < acrossAperture; i++) {
      const x = (i + 0.5) * step - diameter / 2
      const y = (j + 0.5) * step - diameter / 2
      if (x * x + y * y > (diameter / 2) ** 2) continue
      xs.push(x)
      ys.push(y)
    }
  return [Float64Array.from(xs), Float64Array.from(ys)]
}
