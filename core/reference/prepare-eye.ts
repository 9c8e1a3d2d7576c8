import { fresnel, refracted } from '../optics/fresnel.ts'
import type { Tables } from '../optics/tables.ts'
import { metalAngle } from './shade-mirror.ts'
import type { Site } from './site.ts'

/** Sets what coat and metal do to the ray to the eye, wherever its light comes from. */
export function prepareEye(site: Site, tables: Tables): void {
  const { coat } = tables
  site.eyeCos = refracted(site.eyeZ, coat)
  site.eyeLeaving = 1 - fresnel(site.eyeZ, coat)
  site.eyeMetal = Math.sqrt(metalAngle(tables, site.eyeCos))
}
