import { readTable } from '../optics/coordinate.ts'
import { fresnel, refracted } from '../optics/fresnel.ts'
import { slants, type Tables } from '../optics/tables.ts'
import { kernel, metalAngle, plainMirror } from './shade-mirror.ts'
import { straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'
import { hazeGrowth } from './smoothness.ts'

/**
 * What the metal's roughness takes from the orders, of the lamp that the site is set for: a lobe around the mirror
 * direction; see the optics' `hazeKernel`. The inks change its colour as they change the mirror's.
 */
export function addHaze(site: Site, tables: Tables, out: Float64Array): void {
  const { haze, coat } = tables
  if (haze === null || site.foil <= 0 || site.lampZ <= 0 || site.irradiance <= 0) return
  const hz = site.lampZ + site.eyeZ
  const eye = site.eyeSpread * site.eyeSpread
  const blur = haze.variance + site.waviness * hz * hz
  const xx = site.lampXX + eye * (1 - site.eyeX * site.eyeX) + blur
  const xy = site.lampXY - eye * site.eyeX * site.eyeY
  const yy = site.lampYY + eye * (1 - site.eyeY * site.eyeY) + blur
  const near = kernel(site.lampX + site.eyeX, site.lampY + site.eyeY, xx, xy, yy)
  if (near === 0) return
  const cosLamp = refracted(site.lampZ, coat)
  const cosEye = refracted(site.eyeZ, coat)
  const slant = 1 / cosLamp + 1 / cosEye
  const surface = (1 - fresnel(site.lampZ, coat)) * (1 - fresnel(site.eyeZ, coat))
  const passing = site.foil * surface * straightThrough(site, slant)
  const angle = Math.sqrt(metalAngle(tables, cosLamp) * metalAngle(tables, cosEye))
  const level = hazeLevel(tables, cosLamp) * hazeLevel(tables, cosEye)
  const growth = hazeGrowth(tables, coat * (cosLamp + cosEye))
  const k = Math.PI * site.irradiance * passing * angle * near * level * growth
  const { mirror } = site.print
  const clear = tables.orderZero.data
  plainMirror(site, (slant - slants[0]) / (slants[1] - slants[0]), mirror)
  for (let c = 0; c < 3; c++) out[c]! += k * haze.color[c]! * (mirror[c]! / clear[c]!)
}

/** The second row of the table by angle: see the optics' `hazeLevel`. */
function hazeLevel({ metalAngle, cosGrazing }: Tables, cos: number): number {
  return readTable(metalAngle, (cos - cosGrazing) / (1 - cosGrazing), 1)
}
