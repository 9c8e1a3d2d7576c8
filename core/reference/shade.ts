import { fresnel, refracted } from '../optics/fresnel.ts'
import { unshadowed } from '../optics/gloss.ts'
import { roomFloor, type Surround } from '../optics/room.ts'
import { slants, type Tables } from '../optics/tables.ts'
import { addMirror, metalAngle, mirrorNear, nothing, orderZero, plainMirror } from './shade-mirror.ts'
import { addOrders, anyOrderNear } from './shade-orders.ts'
import { preparePrint } from './shade-print.ts'
import { addScattered, scatters, straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'

export type { Surround } from '../optics/room.ts'
export { nothing } from './shade-mirror.ts'
export { emptySite, gratingLimit, type Site } from './site.ts'

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
  const scattering = scatters(site)
  if (site.lampZ > 0 && site.irradiance > 0) {
    if (site.metal > 0 && (anyOrderNear(site, tables) || mirrorNear(site, tables)))
      addCoherent(site, tables, out)
    if (scattering) {
      const slant = slantOf(site, tables)
      addScattered(site, tables, slant, 1 - fresnel(site.lampZ, tables.coat), site.irradiance, out)
    }
    addGloss(site, tables, out)
  }
  if (surround.level > 0) addRoom(site, tables, surround, scattering, out)
  return out
}

/** 1/cosθ of both rays in the coat: how much longer than its thickness the coat is crossed. */
function slantOf(site: Site, { coat }: Tables): number {
  return 1 / refracted(site.lampZ, coat) + 1 / refracted(site.eyeZ, coat)
}

/** Orders and mirror of the lamp. */
function addCoherent(site: Site, tables: Tables, out: Float64Array): void {
  const { coat } = tables
  const cosLamp = refracted(site.lampZ, coat)
  const cosEye = refracted(site.eyeZ, coat)
  const slant = 1 / cosLamp + 1 / cosEye
  const surface = (1 - fresnel(site.lampZ, coat)) * (1 - fresnel(site.eyeZ, coat))
  const passing = site.metal * surface * straightThrough(site, tables, slant)
  if (passing === 0) return
  const angle = Math.sqrt(metalAngle(tables, cosLamp) * metalAngle(tables, cosEye))
  const scale = Math.PI * site.irradiance * passing * angle
  const q = coat * (cosLamp + cosEye)
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  addOrders(site, tables, x, q, scale, out)
  addMirror(site, tables, x, q, scale, out)
}

/** Top surface, bare and varnished area by area; see the optics' `gloss`. */
function addGloss(site: Site, tables: Tables, out: Float64Array): void {
  const x = site.lampX + site.eyeX
  const y = site.lampY + site.eyeY
  const z = site.lampZ + site.eyeZ
  const z2 = z * z
  const side2 = x * x + y * y
  const blur = (2 * (site.lampSpread * site.lampSpread + site.eyeSpread * site.eyeSpread)) / z2
  const [bare, varnished] = tables.glossVariance
  if (side2 > nothing * z2 * (Math.max(bare, varnished) + blur)) return
  const length2 = side2 + z2
  const tan2 = side2 / z2
  const cos2 = z2 / length2
  const lobes =
    (1 - site.varnish) * lobe(site, tan2, bare + blur) + site.varnish * lobe(site, tan2, varnished + blur)
  const reflected = fresnel(Math.sqrt(length2) / 2, tables.coat)
  const glossy = (site.irradiance * reflected * lobes) / (4 * site.lampZ * site.eyeZ * cos2 * cos2)
  const { white } = tables
  out[0]! += glossy * white[0]
  out[1]! += glossy * white[1]
  out[2]! += glossy * white[2]
}

/** π times slope density and shadowing of a surface with mean square slope `variance`. */
function lobe(site: Site, tan2: number, variance: number): number {
  const exponent = tan2 / variance
  if (exponent > nothing) return 0
  return (Math.exp(-exponent) / variance) * unshadowed(site.lampZ, variance) * unshadowed(site.eyeZ, variance)
}

/** The room: in the mirror order by direction; in the other orders and on what scatters by its mean. */
function addRoom(
  site: Site,
  tables: Tables,
  surround: Surround,
  scattering: boolean,
  out: Float64Array,
): void {
  const { coat, white } = tables
  const { up, level } = surround
  const glossy = fresnel(site.eyeZ, coat)
  const c = up[2] * site.eyeZ - up[0] * site.eyeX - up[1] * site.eyeY
  const image = level * (roomFloor + (1 - roomFloor) * 0.25 * (1 + c) * (1 + c))
  const mean = level * (roomFloor + (1 - roomFloor) * 0.25 * (1 + (4 / 3) * up[2] + (1 + up[2] * up[2]) / 4))
  const cosEye = refracted(site.eyeZ, coat)
  const slant = 2 / cosEye
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  if (site.metal > 0) {
    const passing = site.metal * (1 - glossy) * (1 - glossy) * straightThrough(site, tables, slant)
    const scale = passing * metalAngle(tables, cosEye)
    const { mirror, groove } = site.print
    plainMirror(site, x, mirror)
    // Order 0 shows the image, the rest the mean: mean · all + (image − mean) · order 0.
    let bare = 1
    const shift = scale * (image - mean)
    for (let i = 0; i < site.gratings; i++) {
      const share = site.share[i]!
      if (share <= 0) continue
      bare -= share
      orderZero(site, tables, i, 2 * coat * cosEye, x, groove)
      out[0]! += shift * share * groove[0]!
      out[1]! += shift * share * groove[1]!
      out[2]! += shift * share * groove[2]!
    }
    const plain = scale * mean + shift * Math.max(0, bare)
    out[0]! += plain * mirror[0]!
    out[1]! += plain * mirror[1]!
    out[2]! += plain * mirror[2]!
  }
  const shine = glossy * image
  out[0]! += shine * white[0]
  out[1]! += shine * white[1]
  out[2]! += shine * white[2]
  if (scattering) addScattered(site, tables, slant, tables.evenlyEntering, mean, out)
}
