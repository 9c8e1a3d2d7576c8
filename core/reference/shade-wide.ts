import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { type Area, aimArea, marginOf, meets, softShare } from '../optics/area.ts'
import { readTable } from '../optics/coordinate.ts'
import { fresnel, refracted } from '../optics/fresnel.ts'
import { unshadowed } from '../optics/gloss.ts'
import {
  bandSamples,
  bandStep,
  betweenSlants,
  hazeWavelength,
  inkColumns,
  maxOrder,
  slants,
  type Tables,
} from '../optics/tables.ts'
import { type LampLight, setLampBlur } from './light.ts'
import { orderPower } from './order-power.ts'
import { metalAngle, orderZero, plainMirror } from './shade-mirror.ts'
import { preparePath } from './shade-print.ts'
import { addScattered, straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'
import { smoothness } from './smoothness.ts'

/*
 * A lamp so wide that its outline counts. In order m the eye sees, wavelength by wavelength, the direction
 * l_t = −v_t + (mλ/d) g: a line of directions across the lamp. Where it lies inside the outline, smoothed by all that
 * blurs but the lamp, the order is lit; angles, surface and metal are those of the direction.
 */

/** Adds the light of one wide lamp: orders, mirror, scattered light; the gloss is {@link addWideGloss}. */
export function addWideLamp(
  site: Site,
  tables: Tables,
  lamp: LampLight,
  scattering: boolean,
  out: Float64Array,
): void {
  const { area } = site
  aimArea(lamp, site.placeX, site.placeY, area)
  if (area.light <= 0) return
  const { coat } = tables
  const cosEye = refracted(site.eyeZ, coat)
  if (site.foil > 0) {
    const leaving = 1 - fresnel(site.eyeZ, coat)
    const scale = Math.PI * lamp.wideScale * site.foil * leaving * Math.sqrt(metalAngle(tables, cosEye))
    for (let i = 0; i < site.gratings; i++)
      if (site.share[i]! > 0 && site.pitch[i]! > 0)
        addOrders(site, tables, i, cosEye, scale * site.share[i]!, out)
    addMirror(site, tables, cosEye, scale, out)
  }
  if (scattering) {
    const slant = 1 / refracted(area.lightCos, coat) + 1 / cosEye
    const entering = 1 - fresnel(area.lightCos, coat)
    addScattered(site, tables, slant, entering, lamp.wideScale * area.light, out)
  }
}

const span = new Float64Array(2)
const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)

function addOrders(
  site: Site,
  tables: Tables,
  i: number,
  cosEye: number,
  scale: number,
  out: Float64Array,
): void {
  const { area } = site
  const pitch = site.pitch[i]!
  const gx = site.directionX[i]!
  const gy = site.directionY[i]!
  const along = site.spreadAlong[i]!
  const across = site.spreadAcross[i]!
  const covariance = site.spreadCovariance[i]!
  const eyeU = site.eyeX * gx + site.eyeY * gy
  const eyeW = site.eyeY * gx - site.eyeX * gy
  const eye = site.eyeSpread * site.eyeSpread
  const [cellU, cellW] = tables.cellVariance
  const spread = Math.min(maxOrder * lastWavelength, 2 * pitch) * Math.max(along, across)
  const height = site.eyeZ + 1
  const widest = Math.sqrt(eye + site.waviness * height * height + Math.max(cellU, cellW) + spread * spread)
  const margin = marginOf(area, widest)
  const w = -eyeW
  if (w * w >= 1 || !meets(area, gx, gy, w, margin, span)) return
  for (let side = -1; side <= 1; side += 2) {
    // Part along g that the order adds: nλ/d; the span of directions as wavelengths.
    const near = side > 0 ? span[0]! + eyeU : -span[1]! - eyeU
    const far = side > 0 ? span[1]! + eyeU : -span[0]! - eyeU
    for (let n = 1; n <= maxOrder; n++) {
      const from = Math.max(firstWavelength, (near * pitch) / n)
      const to = Math.min(lastWavelength, (far * pitch) / n)
      if (from >= to) continue
      const samples = Math.max(bandSamples, Math.ceil((to - from) / bandStep))
      addLine(site, tables, area, i, side * n, cosEye, scale, from, to, samples, out)
    }
  }

  /** The wavelengths of one order, stratum by stratum. */
  function addLine(
    site: Site,
    tables: Tables,
    area: Area,
    i: number,
    m: number,
    cosEye: number,
    scale: number,
    from: number,
    to: number,
    samples: number,
    out: Float64Array,
  ): void {
    const { path, clear } = site.print
    const { coat } = tables
    if (!clear) {
      const first = Math.min(((from - firstWavelength) / inkStep) | 0, inkColumns - 2)
      const last = Math.min(((to - firstWavelength) / inkStep) | 0, inkColumns - 2) + 1
      preparePath(site, tables, first, last)
    }
    const step = (to - from) / samples
    // A stratum's mean of the outline is the outline smoothed by the stratum.
    const stratum = ((step / pitch) * m) ** 2 / 12
    let left = from - firstWavelength
    for (let k = 0; k < samples; k++, left += step) {
      const offset = left + step / 2
      const λ = firstWavelength + offset
      const added = (m * λ) / pitch
      const u = added - eyeU
      const z2 = 1 - u * u - w * w
      if (z2 <= 0) continue
      const lz = Math.sqrt(z2)
      const waves = site.waviness * (lz + site.eyeZ) ** 2
      const uu = eye * (1 - eyeU * eyeU) + waves + cellU + stratum + (m * λ * along) ** 2
      const uw = -eye * eyeU * eyeW + (m * λ) ** 2 * covariance
      const ww = eye * (1 - eyeW * eyeW) + waves + cellW + (m * λ * across) ** 2
      const seen = softShare(
        area,
        u * gx - w * gy,
        u * gy + w * gx,
        lz,
        uu * gx * gx - 2 * uw * gx * gy + ww * gy * gy,
        (uu - ww) * gx * gy + uw * (gx * gx - gy * gy),
        uu * gy * gy + 2 * uw * gx * gy + ww * gx * gx,
      )
      if (seen <= 0) continue
      const cosLamp = refracted(lz, coat)
      const slant = 1 / cosLamp + 1 / cosEye
      const q = coat * (cosLamp + cosEye)
      let factor =
        scale *
        seen *
        (1 - fresnel(lz, coat)) *
        Math.sqrt(metalAngle(tables, cosLamp)) *
        straightThrough(site, slant) *
        orderPower(tables, site.groove[i]!, m, pitch, site.grooveDepth[i]!, λ, q)
      if (!clear) {
        const x = (slant - slants[0]) / (slants[1] - slants[0])
        const n = Math.min((offset / inkStep) | 0, inkColumns - 2)
        const r = offset / inkStep - n
        const f0 = path[n]! + r * (path[n + 1]! - path[n]!)
        const f1 = path[inkColumns + n]! + r * (path[inkColumns + n + 1]! - path[inkColumns + n]!)
        factor *= betweenSlants(f0, f1, x)
      }
      const { cumulative } = tables
      const a = left / (lastWavelength - firstWavelength)
      const b = (left + step) / (lastWavelength - firstWavelength)
      for (let c = 0; c < 3; c++)
        out[c]! += factor * (readTable(cumulative, b, 0, c) - readTable(cumulative, a, 0, c))
    }
  }
}

/** Order 0 and the mirror between the gratings: the lamp's image in the panel. */
function addMirror(site: Site, tables: Tables, cosEye: number, scale: number, out: Float64Array): void {
  const { area, eyeX, eyeY, eyeZ } = site
  const { coat } = tables
  const eye = site.eyeSpread * site.eyeSpread
  const waves = site.waviness * 4 * eyeZ * eyeZ
  const xx = eye * (1 - eyeX * eyeX) + waves
  const xy = -eye * eyeX * eyeY
  const yy = eye * (1 - eyeY * eyeY) + waves
  const slant = 2 / cosEye
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  const passing =
    scale *
    (1 - fresnel(eyeZ, coat)) *
    Math.sqrt(metalAngle(tables, cosEye)) *
    straightThrough(site, slant) *
    smoothness(tables, 2 * coat * cosEye, hazeWavelength)
  const [along, across] = tables.cellVariance
  const { mirror, groove } = site.print
  let bare = 1
  for (let i = 0; i < site.gratings; i++) {
    const share = site.share[i]!
    if (share <= 0) continue
    bare -= share
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const k = softShare(
      area,
      -eyeX,
      -eyeY,
      eyeZ,
      xx + along * gx * gx + across * gy * gy,
      xy + (along - across) * gx * gy,
      yy + along * gy * gy + across * gx * gx,
    )
    if (k <= 0) continue
    orderZero(site, tables, i, 2 * coat * cosEye, x, groove)
    for (let c = 0; c < 3; c++) out[c]! += passing * share * k * groove[c]!
  }
  if (bare <= 0) return
  const k = softShare(area, -eyeX, -eyeY, eyeZ, xx, xy, yy)
  if (k <= 0) return
  plainMirror(site, x, mirror)
  for (let c = 0; c < 3; c++) out[c]! += passing * bare * k * mirror[c]!
}

/**
 * Part of perfect white that the top surface throws to the eye from a wide lamp, when its lobe is narrower than the
 * lamp: the lamp's image, smoothed by the lobe.
 * @param reflected what the surface throws back at the eye's angle
 * @param variance  mean square slope
 */
export function wideLobe(site: Site, reflected: number, lamp: LampLight, variance: number): number {
  const { eyeX, eyeY, eyeZ } = site
  // A slope p turns the mirror direction by 2 p cosθ: half the variance on each axis.
  const blur = 2 * eyeZ * eyeZ * variance + site.eyeSpread * site.eyeSpread
  const seen = softShare(site.area, -eyeX, -eyeY, eyeZ, blur, 0, blur)
  if (seen <= 0) return 0
  const reached = unshadowed(eyeZ, variance)
  return Math.PI * lamp.wideScale * reflected * reached * reached * seen
}

/** Sets direction, spread and irradiance of the wide lamp in `site.area` as if it were a point with a blur. */
export function aimWideAsPoint(site: Site, lamp: LampLight): void {
  const { area } = site
  site.lampX = area.towardX
  site.lampY = area.towardY
  site.lampZ = area.towardZ
  site.irradiance = lamp.wideScale * area.light
  const square = (x: number, y: number, z: number) => {
    const part = x * area.towardX + y * area.towardY + z * area.towardZ
    return x * x + y * y + z * z - part * part
  }
  const distance2 = area.x * area.x + area.y * area.y + area.z * area.z
  const sum = square(area.acrossX, area.acrossY, area.acrossZ) + square(area.upX, area.upY, area.upZ)
  const mean = sum / ((area.round ? 8 : 6) * distance2)
  setLampBlur(site, mean, 0, mean, mean)
}
