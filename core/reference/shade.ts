import { fresnel, refracted } from '../optics/fresnel.ts'
import { narrower, unshadowed } from '../optics/gloss.ts'
import type { Surround } from '../optics/room.ts'
import { slants, type Tables } from '../optics/tables.ts'
import { aimLamp, type LampLight, type Light } from './light.ts'
import { prepareEye } from './prepare-eye.ts'
import { addHaze } from './shade-haze.ts'
import { addMirror, metalAngle, nothing } from './shade-mirror.ts'
import { addOrders, anyLightNear } from './shade-orders.ts'
import { preparePrint } from './shade-print.ts'
import { addRoom } from './shade-room.ts'
import { addScattered, prepareWhites, straightThrough } from './shade-white.ts'
import { addWideLamp, aimWideAsPoint, wideLobe } from './shade-wide.ts'
import type { Site } from './site.ts'

export type { Surround } from '../optics/room.ts'
export { nothing } from './shade-mirror.ts'
export { emptySite, gratingLimit, type Site } from './site.ts'

/**
 * Light towards the eye: X, Y, Z in units of perfect white under all lamps in the middle of the untilted panel. The fast
 * form of `seen` of the optics: tables instead of spectra, 12 samples a band; it allocates nothing. The shader follows
 * it step by step. Eye and matter of the site are set; the lamps are set here, one after the other.
 * @param sets tables of each spectrum among the lamps
 * @param out  gets X, Y, Z at 0, 1, 2
 */
export function shadeAll(site: Site, light: Light, sets: readonly Tables[], out: Float64Array): Float64Array {
  out[0] = 0
  out[1] = 0
  out[2] = 0
  if (site.eyeZ <= 0) return out
  const scattering = prepareWhites(site, sets[0]!)
  for (let i = 0; i < light.lamps.length; i++) {
    const lamp = light.lamps[i]!
    const tables = printFor(site, sets, lamp.set)
    if (lamp.wide) addWide(site, tables, lamp, scattering, out)
    else {
      aimLamp(lamp, site)
      addLamp(site, tables, scattering, out)
    }
  }
  if (light.surround.level > 0) {
    prepareEye(site, sets[0]!)
    for (let set = 0; set < sets.length; set++)
      addRoom(site, printFor(site, sets, set), light.rooms[set]!, scattering, out)
  }
  return out
}

/** The same under the one lamp that the site is set for, which need not be that of a scene. */
export function shade(site: Site, tables: Tables, surround: Surround, out: Float64Array): Float64Array {
  out[0] = 0
  out[1] = 0
  out[2] = 0
  if (site.eyeZ <= 0) return out
  preparePrint(site, tables)
  const scattering = prepareWhites(site, tables)
  addLamp(site, tables, scattering, out)
  if (surround.level > 0) {
    prepareEye(site, tables)
    addRoom(site, tables, surround, scattering, out)
  }
  return out
}

/** Makes the inks of the site ready for one spectrum. */
export function printFor(site: Site, sets: readonly Tables[], set: number): Tables {
  const tables = sets[set]!
  site.print = site.prints[set]!
  preparePrint(site, tables)
  return tables
}

/** The lamp that the site is set for. */
function addLamp(site: Site, tables: Tables, scattering: boolean, out: Float64Array): void {
  if (site.lampZ <= 0 || site.irradiance <= 0) return
  addLampInMetal(site, tables, out)
  if (scattering) {
    const slant = slantOf(site, tables)
    addScattered(site, tables, slant, 1 - fresnel(site.lampZ, tables.coat), site.irradiance, out)
  }
  addGloss(site, tables, null, out)
}

/** What the metal sends of the lamp that the site is set for. */
export function addLampInMetal(site: Site, tables: Tables, out: Float64Array): void {
  if (lieBare(site, tables)) addStraight(site, tables, out)
  if (lieVarnished(site, tables)) addStraight(site, tables, out)
}

/** Sets the site for the straight light that meets no matte varnish; false where there is none. */
function lieBare(site: Site, tables: Tables): boolean {
  const [bare, varnished] = tables.wavinessVariances
  site.waviness = bare
  site.foil = varnished > bare ? site.metal * (1 - site.varnish) : site.metal
  return site.foil > 0
}

/** The same for what meets it: the two parts keep a kernel each. */
function lieVarnished(site: Site, tables: Tables): boolean {
  const [bare, varnished] = tables.wavinessVariances
  site.waviness = varnished
  site.foil = site.metal * site.varnish
  return varnished > bare && site.foil > 0
}

/** Orders, mirror and haze of the lamp and the part that the site is set for. */
function addStraight(site: Site, tables: Tables, out: Float64Array): void {
  if (anyLightNear(site, tables)) addCoherent(site, tables, out)
  if (tables.haze !== null) addHaze(site, tables, out)
}

function addWide(site: Site, tables: Tables, lamp: LampLight, scattering: boolean, out: Float64Array): void {
  addWideStraight(site, tables, lamp, scattering, out)
  if (site.area.light <= 0) return
  aimWideAsPoint(site, lamp)
  if (site.lampZ > 0) addGloss(site, tables, lamp, out)
}

/** All of a wide lamp but the gloss. */
export function addWideStraight(
  site: Site,
  tables: Tables,
  lamp: LampLight,
  scattering: boolean,
  out: Float64Array,
): void {
  lieBare(site, tables)
  addWideLamp(site, tables, lamp, scattering, out)
  if (site.area.light <= 0) return
  addWideHaze(site, tables, lamp, out)
  if (lieVarnished(site, tables)) {
    addWideLamp(site, tables, lamp, false, out)
    addWideHaze(site, tables, lamp, out)
  }
}

function addWideHaze(site: Site, tables: Tables, lamp: LampLight, out: Float64Array): void {
  if (tables.haze === null) return
  aimWideAsPoint(site, lamp)
  if (site.lampZ > 0) addHaze(site, tables, out)
}

/** 1/cosθ of both rays in the coat: how much longer than its thickness the coat is crossed. */
export function slantOf(site: Site, { coat }: Tables): number {
  return 1 / refracted(site.lampZ, coat) + 1 / refracted(site.eyeZ, coat)
}

/** Orders and mirror of the lamp. */
function addCoherent(site: Site, tables: Tables, out: Float64Array): void {
  const { coat } = tables
  const cosLamp = refracted(site.lampZ, coat)
  const cosEye = refracted(site.eyeZ, coat)
  const slant = 1 / cosLamp + 1 / cosEye
  const surface = (1 - fresnel(site.lampZ, coat)) * (1 - fresnel(site.eyeZ, coat))
  const passing = site.foil * surface * straightThrough(site, slant)
  if (passing === 0) return
  const angle = Math.sqrt(metalAngle(tables, cosLamp) * metalAngle(tables, cosEye))
  const scale = Math.PI * site.irradiance * passing * angle
  const q = coat * (cosLamp + cosEye)
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  addOrders(site, tables, x, q, scale, out)
  addMirror(site, tables, x, q, scale, out)
}

/**
 * Top surface, bare and varnished area by area; see the optics' `gloss`.
 * @param wide the lamp where it is wide: a lobe narrower than the lamp shows its outline
 */
export function addGloss(site: Site, tables: Tables, wide: LampLight | null, out: Float64Array): void {
  const [bare, varnished] = tables.glossVariance
  const { varnish } = site
  const glossy =
    (varnish < 1 ? (1 - varnish) * topLobe(site, wide, bare, tables.coat) : 0) +
    (varnish > 0 ? varnish * topLobe(site, wide, varnished, tables.coat) : 0)
  if (glossy === 0) return
  const { white } = tables
  out[0]! += glossy * white[0]
  out[1]! += glossy * white[1]
  out[2]! += glossy * white[2]
}

/**
 * Part of perfect white that a top surface of mean square slope `variance` throws to the eye.
 * @param reflectance of what lies there by the cosine of the angle and its refractive index
 */
export function topLobe(
  site: Site,
  wide: LampLight | null,
  variance: number,
  index: number,
  reflectance: (cos: number, index: number) => number = fresnel,
): number {
  if (wide !== null && narrower(variance, site.lampSpread))
    return wideLobe(site, reflectance(site.eyeZ, index), wide, variance)
  const x = site.lampX + site.eyeX
  const y = site.lampY + site.eyeY
  const z = site.lampZ + site.eyeZ
  const z2 = z * z
  const side2 = x * x + y * y
  const spread2 = 2 * (site.lampSpread * site.lampSpread + site.eyeSpread * site.eyeSpread)
  if (side2 > nothing * (z2 * variance + spread2)) return 0
  const blurred = variance + spread2 / z2
  const length2 = side2 + z2
  const cos2 = z2 / length2
  const reflected = reflectance(Math.sqrt(length2) / 2, index)
  const density = lobe(site, side2 / z2, blurred)
  return (site.irradiance * reflected * density) / (4 * site.lampZ * site.eyeZ * cos2 * cos2)
}

/** π times slope density and shadowing of a surface with mean square slope `variance`. */
function lobe(site: Site, tan2: number, variance: number): number {
  const exponent = tan2 / variance
  if (exponent > nothing) return 0
  return (Math.exp(-exponent) / variance) * unshadowed(site.lampZ, variance) * unshadowed(site.eyeZ, variance)
}
