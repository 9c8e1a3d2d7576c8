import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import {
  bandSamples,
  bandStep,
  bandStretch,
  betweenSlants,
  capRow,
  capRows,
  capStep,
  efficiencyRow,
  inkColumns,
  maxPhase,
  phaseColumns,
  type Tables,
} from '../optics/tables.ts'
import { preparePath } from './shade-print.ts'
import type { Site } from './site.ts'
import { smoothness } from './smoothness.ts'

const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)
const phaseScale = (phaseColumns - 1) / maxPhase

/**
 * Light of one order's band, cut to `from`…`to`: adds weight · ∫ N(λ; middle, deviation) · S · cmf · R · P · F · ink dλ.
 * Strata of equal width: the light of each from the cumulative table, all else at its middle; what the groove does comes
 * from a parabola over each stretch of them.
 * @param groove       index of the groove in the tables
 * @param m            order, −maxOrder…maxOrder, not 0
 * @param pitch        nm
 * @param depth        nm
 * @param q            q_l + q_v
 * @param x            place of the slant between the tables' two
 * @param from, to     nm, inside the tables' range, from < to
 */
export function addBand(
  site: Site,
  tables: Tables,
  groove: number,
  m: number,
  pitch: number,
  depth: number,
  q: number,
  x: number,
  from: number,
  to: number,
  middle: number,
  deviation: number,
  weight: number,
  out: Float64Array,
): void {
  const { path, clear } = site.print
  if (!clear) {
    const first = Math.min(((from - firstWavelength) / inkStep) | 0, inkColumns - 2)
    const last = Math.min(((to - firstWavelength) / inkStep) | 0, inkColumns - 2) + 1
    preparePath(site, tables, first, last)
  }
  const efficiency = tables.efficiency.data
  const cumulative = tables.cumulative.data
  const start = efficiencyRow(groove, m) * phaseColumns
  const stretches = Math.ceil(Math.max(bandSamples, (to - from) / bandStep) / bandStretch)
  const samples = stretches * bandStretch
  const step = (to - from) / samples
  const phase = 2 * Math.PI * depth * q * phaseScale
  const { vector, freeFrom } = tables.grooves[groove]!
  const kept = weight * smoothness(tables, q, (from + to) / 2)
  const reach = m / (tables.coat * pitch)
  const lift = vector * reach * reach
  // The cap changes slowly: straight between its inverses at both ends.
  let held = 1
  let heldStep = 0
  if (pitch < freeFrom) {
    held = 1 / capOf(tables, groove, pitch, depth, from)
    heldStep = (1 / capOf(tables, groove, pitch, depth, to) - held) / (2 * stretches)
  }
  // A Gaussian at equal steps: each value is the one before times a ratio that itself falls by a constant factor.
  const z = step / deviation
  const z0 = (from + step / 2 - middle) / deviation
  let bell = (kept * Math.exp((-z0 * z0) / 2)) / (deviation * Math.sqrt(2 * Math.PI))
  let ratio = Math.exp(-z * (z0 + z / 2))
  const fall = Math.exp(-z * z)

  let X = 0
  let Y = 0
  let Z = 0
  let at = from - firstWavelength
  let left = Math.min(at | 0, lastWavelength - firstWavelength - 1)
  let part = at - left
  let texel = 4 * left
  let xLeft = cumulative[texel]! + part * (cumulative[texel + 4]! - cumulative[texel]!)
  let yLeft = cumulative[texel + 1]! + part * (cumulative[texel + 5]! - cumulative[texel + 1]!)
  let zLeft = cumulative[texel + 2]! + part * (cumulative[texel + 6]! - cumulative[texel + 2]!)
  const half = (step * bandStretch) / 2
  let power = held * powerAt(efficiency, start, phase, lift, from)
  let bend = 0
  let slope = 0
  let along = 0
  for (let k = 0; k < samples; k++) {
    if (k % bandStretch === 0) {
      // A parabola through beginning, middle and end of the stretch, then by differences from stratum to stratum.
      const λ = firstWavelength + at
      const middlePower = (held + heldStep) * powerAt(efficiency, start, phase, lift, λ + half)
      held += 2 * heldStep
      const endPower = held * powerAt(efficiency, start, phase, lift, λ + 2 * half)
      const b = (4 * middlePower - 3 * power - endPower) / bandStretch
      const c = (2 * (power - 2 * middlePower + endPower)) / (bandStretch * bandStretch)
      along = power + b / 2 + c / 4
      slope = b + 2 * c
      bend = 2 * c
      power = endPower
    }
    at += step
    left = Math.min(at | 0, lastWavelength - firstWavelength - 1)
    part = at - left
    texel = 4 * left
    const xRight = cumulative[texel]! + part * (cumulative[texel + 4]! - cumulative[texel]!)
    const yRight = cumulative[texel + 1]! + part * (cumulative[texel + 5]! - cumulative[texel + 1]!)
    const zRight = cumulative[texel + 2]! + part * (cumulative[texel + 6]! - cumulative[texel + 2]!)

    let factor = bell * along
    if (!clear) {
      const offset = at - step / 2
      const node = offset / inkStep
      const n = Math.min(node | 0, inkColumns - 2)
      const r = node - n
      const f0 = path[n]! + r * (path[n + 1]! - path[n]!)
      const f1 = path[inkColumns + n]! + r * (path[inkColumns + n + 1]! - path[inkColumns + n]!)
      factor *= betweenSlants(f0, f1, x)
    }
    X += factor * (xRight - xLeft)
    Y += factor * (yRight - yLeft)
    Z += factor * (zRight - zLeft)
    xLeft = xRight
    yLeft = yRight
    zLeft = zRight
    bell *= ratio
    ratio *= fall
    along += slope
    slope += bend
  }
  out[0]! += X
  out[1]! += Y
  out[2]! += Z
}

/** P·F of one row of the efficiency table at λ. */
function powerAt(efficiency: Float32Array, start: number, phase: number, lift: number, λ: number): number {
  const φ = Math.min(phase / λ, phaseColumns - 1)
  const column = Math.min(φ | 0, phaseColumns - 2)
  const P = efficiency[start + column]!
  return (P + (φ - column) * (efficiency[start + column + 1]! - P)) * (1 + lift * λ * λ)
}

/** What all shares of a groove are divided by at λ; see the optics' `shareCap`. */
export function capOf(
  { efficiency, coat, grooves }: Tables,
  groove: number,
  pitch: number,
  depth: number,
  λ: number,
): number {
  if (pitch >= grooves[groove]!.freeFrom) return 1
  const { data } = efficiency
  const column = Math.min(((4 * Math.PI * coat * depth) / λ) * phaseScale, phaseColumns - 1)
  const row = Math.min(λ / (coat * pitch * capStep), capRows - 1)
  const x = Math.min(column | 0, phaseColumns - 2)
  const y = Math.min(row | 0, capRows - 2)
  const at = (capRow(groove) + y) * phaseColumns + x
  const lower = data[at]! + (column - x) * (data[at + 1]! - data[at]!)
  const next = at + phaseColumns
  const upper = data[next]! + (column - x) * (data[next + 1]! - data[next]!)
  return lower + (row - y) * (upper - lower)
}
