import { fresnel } from '../optics/fresnel.ts'
import { unshadowed } from '../optics/gloss.ts'
import { roomFloor, type Surround } from '../optics/room.ts'
import {
  betweenSlants,
  depthColumns,
  maxOpticalDepth,
  orderZeroRow,
  slants,
  type Tables,
} from '../optics/tables.ts'
import { addOrders } from './shade-orders.ts'
import { preparePrint } from './shade-print.ts'
import { addScattered, straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'

export type { Surround } from '../optics/room.ts'
export { emptySite, gratingLimit, type Site } from './site.ts'

/** Exponents beyond this are nothing: e^-24 is 4e-11. */
export const nothing = 24

/**
 * Light towards the eye: X, Y, Z in units of perfect white under the lamp in the middle of the untilted panel
 * (lamp part × `irradiance`, plus the room). The fast form of `seen` and `underLamp` of the optics: tables instead of
 * spectra, 12 samples a band; it allocates nothing. The shader follows it step by step.
 * @param out gets X, Y, Z at 0, 1, 2
 */
export function shade(site: Site, tables: Tables, surround: Surround, out: Float64Array): Float64Array {
  out[0] = 0
  out[1] = 0
  out[2] = 0
  if (site.eyeZ <= 0) return out
  preparePrint(site, tables)
  if (site.lampZ > 0 && site.irradiance > 0) addLamp(site, tables, out)
  if (surround.level > 0) addRoom(site, tables, surround, out)
  return out
}

function addLamp(site: Site, tables: Tables, out: Float64Array): void {
  const { coat, white } = tables
  const cosLamp = Math.sqrt(1 - (1 - site.lampZ * site.lampZ) / (coat * coat))
  const cosEye = Math.sqrt(1 - (1 - site.eyeZ * site.eyeZ) / (coat * coat))
  const slant = 1 / cosLamp + 1 / cosEye
  const entering = 1 - fresnel(site.lampZ, coat)
  if (site.metal > 0) {
    const passing =
      site.metal * entering * (1 - fresnel(site.eyeZ, coat)) * straightThrough(site, tables, slant)
    if (passing > 0) {
      const angle = Math.sqrt(metalAngle(tables, cosLamp) * metalAngle(tables, cosEye))
      const scale = Math.PI * site.irradiance * passing * angle
      const q = coat * (cosLamp + cosEye)
      addOrders(site, tables, slant, q, scale, out)
      addMirror(site, tables, slant, q, scale, out)
    }
  }
  addScattered(site, tables, slant, entering, site.irradiance, out)

  const lobe =
    (1 - site.varnish) * gloss(site, coat, tables.glossVariance[0]) +
    site.varnish * gloss(site, coat, tables.glossVariance[1])
  const glossy = site.irradiance * lobe
  out[0]! += glossy * white[0]
  out[1]! += glossy * white[1]
  out[2]! += glossy * white[2]
}

/** Order 0 of the gratings and the mirror between them, of the lamp. */
function addMirror(
  site: Site,
  tables: Tables,
  slant: number,
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
  const widest = lamp + eye + waves + Math.max(tables.cellVariance[0], tables.cellVariance[1])
  if (hx * hx + hy * hy > 2 * nothing * widest) return
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  const xx = lamp * (1 - site.lampX * site.lampX) + eye * (1 - site.eyeX * site.eyeX) + waves
  const xy = -lamp * site.lampX * site.lampY - eye * site.eyeX * site.eyeY
  const yy = lamp * (1 - site.lampY * site.lampY) + eye * (1 - site.eyeY * site.eyeY) + waves
  let bare = 1
  for (let i = 0; i < site.gratings; i++) {
    const share = site.share[i]!
    bare -= share
    if (share <= 0) continue
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const [along, across] = tables.cellVariance
    const k =
      scale *
      share *
      kernel(
        hx,
        hy,
        xx + along * gx * gx + across * gy * gy,
        xy + (along - across) * gx * gy,
        yy + along * gy * gy + across * gx * gx,
      )
    for (let c = 0; c < 3; c++)
      out[c]! += k * orderZero(site, tables, site.shape[i]!, site.grooveDepth[i]! * q, x, c)
  }
  if (bare <= 0) return
  const k = scale * bare * kernel(hx, hy, xx, xy, yy)
  for (let c = 0; c < 3; c++) out[c]! += k * plainMirror(site, x, c)
}

function kernel(hx: number, hy: number, xx: number, xy: number, yy: number): number {
  const determinant = xx * yy - xy * xy
  const exponent = (yy * hx * hx - 2 * xy * hx * hy + xx * hy * hy) / (2 * determinant)
  return exponent > nothing ? 0 : Math.exp(-exponent) / (2 * Math.PI * Math.sqrt(determinant))
}

/** Colour c of order 0 by optical depth H (q_l + q_v), through the inks. */
function orderZero(
  site: Site,
  tables: Tables,
  shape: number,
  opticalDepth: number,
  x: number,
  c: number,
): number {
  const { print } = site
  const { data } = tables.orderZero
  const at = Math.min(opticalDepth * ((depthColumns - 1) / maxOpticalDepth), depthColumns - 1)
  const column = Math.min(Math.floor(at), depthColumns - 2)
  const part = at - column
  let f0 = 0
  let f1 = 0
  for (let k = 0; k < print.count; k++) {
    const p = print.primary[k]!
    const a = print.area[k]!
    const t0 = 4 * (orderZeroRow(shape, 0, p) * depthColumns + column) + c
    f0 += a * (data[t0]! + part * (data[t0 + 4]! - data[t0]!))
    if (print.clear) continue
    const t1 = 4 * (orderZeroRow(shape, 1, p) * depthColumns + column) + c
    f1 += a * (data[t1]! + part * (data[t1 + 4]! - data[t1]!))
  }
  return print.clear ? f0 : print.spots[c]! * betweenSlants(f0, f1, x)
}

/** Colour c of a mirror without grooves, through the inks. */
function plainMirror({ print }: Site, x: number, c: number): number {
  return print.clear
    ? print.mirror[c]!
    : print.spots[c]! * betweenSlants(print.mirror[c]!, print.mirror[3 + c]!, x)
}

/** Reflectance of the metal at an angle over that straight on. */
function metalAngle({ metalAngle: { data, width }, cosGrazing }: Tables, cos: number): number {
  const at = ((cos - cosGrazing) / (1 - cosGrazing)) * (width - 1)
  const left = Math.max(0, Math.min(Math.floor(at), width - 2))
  return data[left]! + (at - left) * (data[left + 1]! - data[left]!)
}

/** Top surface over perfect white; see the optics' `gloss`. */
function gloss(site: Site, coat: number, variance: number): number {
  const x = site.lampX + site.eyeX
  const y = site.lampY + site.eyeY
  const z = site.lampZ + site.eyeZ
  const z2 = z * z
  const side2 = x * x + y * y
  const spread = site.lampSpread * site.lampSpread + site.eyeSpread * site.eyeSpread
  const blurred = variance + (2 * spread) / z2
  const exponent = side2 / z2 / blurred
  if (exponent > nothing) return 0
  const length2 = side2 + z2
  const cos2 = z2 / length2
  const density = Math.exp(-exponent) / (Math.PI * blurred * cos2 * cos2)
  const shadowing = unshadowed(site.lampZ, blurred) * unshadowed(site.eyeZ, blurred)
  const reflected = fresnel(Math.sqrt(length2) / 2, coat)
  return (Math.PI * reflected * density * shadowing) / (4 * site.lampZ * site.eyeZ)
}

/** The room: in the mirror order by direction; in the other orders and on what scatters by its mean. */
function addRoom(site: Site, tables: Tables, surround: Surround, out: Float64Array): void {
  const { coat, white } = tables
  const { up, level } = surround
  const glossy = fresnel(site.eyeZ, coat)
  const c = up[2] * site.eyeZ - up[0] * site.eyeX - up[1] * site.eyeY
  const image = level * (roomFloor + (1 - roomFloor) * 0.25 * (1 + c) * (1 + c))
  const mean = level * (roomFloor + (1 - roomFloor) * 0.25 * (1 + (4 / 3) * up[2] + (1 + up[2] * up[2]) / 4))
  const cosEye = Math.sqrt(1 - (1 - site.eyeZ * site.eyeZ) / (coat * coat))
  const slant = 2 / cosEye
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  if (site.metal > 0) {
    const scale =
      site.metal *
      (1 - glossy) *
      (1 - glossy) *
      straightThrough(site, tables, slant) *
      metalAngle(tables, cosEye)
    let bare = 1
    for (let i = 0; i < site.gratings; i++) bare -= site.share[i]!
    for (let k = 0; k < 3; k++) {
      const all = plainMirror(site, x, k)
      let order0 = Math.max(0, bare) * all
      for (let i = 0; i < site.gratings; i++)
        if (site.share[i]! > 0)
          order0 +=
            site.share[i]! *
            orderZero(site, tables, site.shape[i]!, site.grooveDepth[i]! * 2 * coat * cosEye, x, k)
      out[k]! += scale * (order0 * image + (all - order0) * mean)
    }
  }
  out[0]! += glossy * image * white[0]
  out[1]! += glossy * image * white[1]
  out[2]! += glossy * image * white[2]
  addScattered(site, tables, slant, tables.evenlyEntering, mean, out)
}
