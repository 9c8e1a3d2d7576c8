import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { grooveShapes } from '../optics/matter.ts'
import {
  bandReach,
  bandSamples,
  bandStep,
  betweenSlants,
  efficiencyRow,
  inkColumns,
  kernelReach,
  maxOrder,
  maxPhase,
  phaseColumns,
  type Tables,
} from '../optics/tables.ts'
import { preparePath } from './shade-print.ts'
import type { Site } from './site.ts'

const sinusoid = grooveShapes.indexOf('sinusoid')
const blazed = grooveShapes.indexOf('blazed')
const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)

/** Whether any grating's groove direction is near enough for one of its orders to be seen. */
export function anyOrderNear(site: Site, tables: Tables): boolean {
  const hx = site.lampX + site.eyeX
  const hy = site.lampY + site.eyeY
  const hz = site.lampZ + site.eyeZ
  for (let i = 0; i < site.gratings; i++) {
    const w = hy * site.directionX[i]! - hx * site.directionY[i]!
    if (site.share[i]! > 0 && w * w <= farthest2(site, tables, i, hz)) return true
  }
  return false
}

/** Square of the farthest w at which any order of grating i is seen. */
function farthest2(site: Site, tables: Tables, i: number, hz: number): number {
  const spread = maxOrder * lastWavelength * site.spreadAcross[i]!
  const widest =
    site.lampSpread * site.lampSpread +
    site.eyeSpread * site.eyeSpread +
    tables.wavinessVariance * hz * hz +
    tables.cellVariance[1] +
    spread * spread
  return kernelReach * kernelReach * widest
}

/**
 * All orders but 0 of all gratings, of the lamp: adds `scale` · share · ∫ band · S · cmf · R · P · F · ink dλ.
 * @param x place of the slant between the tables' two
 * @param q q_l + q_v
 */
export function addOrders(
  site: Site,
  tables: Tables,
  x: number,
  q: number,
  scale: number,
  out: Float64Array,
): void {
  const hx = site.lampX + site.eyeX
  const hy = site.lampY + site.eyeY
  const hz = site.lampZ + site.eyeZ
  const lamp = site.lampSpread * site.lampSpread
  const eye = site.eyeSpread * site.eyeSpread
  const waves = tables.wavinessVariance * hz * hz
  for (let i = 0; i < site.gratings; i++) {
    const share = site.share[i]!
    const pitch = site.pitch[i]!
    if (share <= 0 || pitch <= 0) continue
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const u = hx * gx + hy * gy
    const w = hy * gx - hx * gy
    if (w * w > farthest2(site, tables, i, hz)) continue
    const across = site.spreadAcross[i]!
    const lampU = site.lampX * gx + site.lampY * gy
    const lampW = site.lampY * gx - site.lampX * gy
    const eyeU = site.eyeX * gx + site.eyeY * gy
    const eyeW = site.eyeY * gx - site.eyeX * gy
    const uu = lamp * (1 - lampU * lampU) + eye * (1 - eyeU * eyeU) + waves + tables.cellVariance[0]
    const uw = -lamp * lampU * lampW - eye * eyeU * eyeW
    const ww = lamp * (1 - lampW * lampW) + eye * (1 - eyeW * eyeW) + waves + tables.cellVariance[1]
    const along = site.spreadAlong[i]!
    // Bounds of |m| on either side of the mirror order, so that few orders are looked at; each is judged below.
    const magnifiedMost = Math.max(pitch * Math.abs(u), maxOrder * firstWavelength) * along
    const margin = Math.abs(w * (uw / ww)) + bandReach * Math.sqrt(uu + magnifiedMost * magnifiedMost)
    for (let side = -1; side <= 1; side += 2) {
      const first = Math.max(1, Math.ceil((pitch * (side * u - margin)) / lastWavelength))
      const last = Math.min(maxOrder, Math.floor((pitch * (side * u + margin)) / firstWavelength))
      for (let n = first; n <= last; n++) {
        const m = side * n
        const magnified = n * Math.min(lastWavelength, Math.max(firstWavelength, (pitch * u) / m))
        const mu = magnified * along
        const mw = magnified * across
        const variance = ww + mw * mw
        if (w * w > kernelReach * kernelReach * variance) continue
        const slope = uw / variance
        const length = pitch / n
        const middle = side * length * (u - w * slope)
        const deviation = length * Math.sqrt(uu + mu * mu - uw * slope)
        const from = Math.max(firstWavelength, middle - bandReach * deviation)
        const to = Math.min(lastWavelength, middle + bandReach * deviation)
        if (from >= to) continue
        const kernel = Math.exp((-w * w) / (2 * variance)) / Math.sqrt(2 * Math.PI * variance)
        const weight = scale * share * length * kernel
        const depth = site.grooveDepth[i]! * q
        addBand(site, tables, site.shape[i]!, m, pitch, depth, x, from, to, middle, deviation, weight, out)
      }
    }
  }
}

/** One order's band: strata of equal width, the light of each from the cumulative table, all else at its middle. */
function addBand(
  site: Site,
  tables: Tables,
  shape: number,
  m: number,
  pitch: number,
  opticalDepth: number,
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
  const row =
    shape === blazed
      ? efficiencyRow.blazed + m + maxOrder
      : (shape === sinusoid ? efficiencyRow.sinusoid : efficiencyRow.rectangular) + Math.abs(m)
  const start = row * phaseColumns
  const samples = Math.max(bandSamples, Math.ceil((to - from) / bandStep))
  const step = (to - from) / samples
  const phase = 2 * Math.PI * opticalDepth * ((phaseColumns - 1) / maxPhase)
  const reach = m / (tables.coat * pitch)
  const vector = shape === sinusoid ? 0.5 * reach * reach : 0
  // A Gaussian at equal steps: each value is the one before times a ratio that itself falls by a constant factor.
  const z = step / deviation
  const z0 = (from + step / 2 - middle) / deviation
  let bell = (weight * Math.exp((-z0 * z0) / 2)) / (deviation * Math.sqrt(2 * Math.PI))
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
  for (let k = 1; k <= samples; k++) {
    at += step
    left = Math.min(at | 0, lastWavelength - firstWavelength - 1)
    part = at - left
    texel = 4 * left
    const xRight = cumulative[texel]! + part * (cumulative[texel + 4]! - cumulative[texel]!)
    const yRight = cumulative[texel + 1]! + part * (cumulative[texel + 5]! - cumulative[texel + 1]!)
    const zRight = cumulative[texel + 2]! + part * (cumulative[texel + 6]! - cumulative[texel + 2]!)

    const offset = at - step / 2
    const λ = firstWavelength + offset
    const φ = Math.min(phase / λ, phaseColumns - 1)
    const column = Math.min(φ | 0, phaseColumns - 2)
    const P = efficiency[start + column]!
    let factor = bell * (P + (φ - column) * (efficiency[start + column + 1]! - P)) * (1 + vector * λ * λ)
    if (!clear) {
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
  }
  out[0]! += X
  out[1]! += Y
  out[2]! += Z
}
