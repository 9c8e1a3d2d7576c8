import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { fresnel, refracted } from '../optics/fresnel.ts'
import type { Direction } from '../optics/rays.ts'
import { roomFloor } from '../optics/room.ts'
import {
  betweenSlants,
  hazeWavelength,
  inkColumns,
  maxOrder,
  roomStrata,
  slants,
  type Tables,
} from '../optics/tables.ts'
import { orderPower } from './order-power.ts'
import { metalAngle, orderZero, plainMirror } from './shade-mirror.ts'
import { preparePath } from './shade-print.ts'
import { addScattered, straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'
import { hazeGrowth, smoothness } from './smoothness.ts'

/**
 * The room. Every order shows it by direction: order 0 where the eye's mirror image looks, order m, wavelength by
 * wavelength, at l_t = −v_t + (mλ/d) g, as far as that is above the panel. What scatters gathers it from all over.
 * @param up    towards its brightest part, panel frame
 * @param level radiance there
 */
export function addRoom(
  site: Site,
  tables: Tables,
  up: Direction,
  level: number,
  scattering: boolean,
  out: Float64Array,
): void {
  const { coat, white } = tables
  const glossy = fresnel(site.eyeZ, coat)
  const image = level * radiance(up, -site.eyeX, -site.eyeY, site.eyeZ)
  const cosEye = refracted(site.eyeZ, coat)
  const slant = 2 / cosEye
  if (site.metal > 0) {
    const leaving = site.metal * (1 - glossy)
    addImage(site, tables, cosEye, leaving * (1 - glossy) * image, out)
    const scale = leaving * level * Math.sqrt(metalAngle(tables, cosEye))
    for (let i = 0; i < site.gratings; i++)
      if (site.share[i]! > 0 && site.pitch[i]! > 0) addOrders(site, tables, i, up, cosEye, scale, out)
  }
  const shine = glossy * image
  out[0]! += shine * white[0]
  out[1]! += shine * white[1]
  out[2]! += shine * white[2]
  if (scattering) {
    const mean =
      level * (roomFloor + (1 - roomFloor) * 0.25 * (1 + (4 / 3) * up[2] + (1 + up[2] * up[2]) / 4))
    addScattered(site, tables, slant, tables.evenlyEntering, mean, out)
  }
}

/** Radiance by direction over that of the brightest part: the optics' `roomRadiance`. */
function radiance(up: Direction, x: number, y: number, z: number): number {
  const c = 1 + up[0] * x + up[1] * y + up[2] * z
  return roomFloor + (1 - roomFloor) * 0.25 * c * c
}

/** Order 0 of the gratings and the mirror between them. */
function addImage(site: Site, tables: Tables, cosEye: number, light: number, out: Float64Array): void {
  const slant = 2 / cosEye
  const q = 2 * tables.coat * cosEye
  const passing = light * straightThrough(site, slant) * metalAngle(tables, cosEye)
  const scale = passing * smoothness(tables, q, hazeWavelength)
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  const { mirror, groove } = site.print
  plainMirror(site, x, mirror)
  const { haze } = tables
  if (haze !== null) {
    // The haze lies around the mirror image.
    const k = passing * hazeGrowth(tables, q)
    for (let c = 0; c < 3; c++) out[c]! += k * haze.color[c]! * (mirror[c]! / tables.orderZero.data[c]!)
  }
  let bare = 1
  for (let i = 0; i < site.gratings; i++) {
    const share = site.share[i]!
    if (share <= 0) continue
    bare -= share
    orderZero(site, tables, i, q, x, groove)
    out[0]! += scale * share * groove[0]!
    out[1]! += scale * share * groove[1]!
    out[2]! += scale * share * groove[2]!
  }
  if (bare <= 0) return
  out[0]! += scale * bare * mirror[0]!
  out[1]! += scale * bare * mirror[1]!
  out[2]! += scale * bare * mirror[2]!
}

const stratum = (lastWavelength - firstWavelength) / roomStrata
const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)

/** All other orders of grating i. */
function addOrders(
  site: Site,
  tables: Tables,
  i: number,
  up: Direction,
  cosEye: number,
  scale: number,
  out: Float64Array,
): void {
  const { coat } = tables
  const light = tables.cumulative.data
  const { path, clear } = site.print
  const pitch = site.pitch[i]!
  const gx = site.directionX[i]!
  const gy = site.directionY[i]!
  const eyeU = site.eyeX * gx + site.eyeY * gy
  const w = site.eyeX * gy - site.eyeY * gx
  const reach2 = 1 - w * w
  const reach = Math.sqrt(reach2)
  const upU = up[0] * gx + up[1] * gy
  const upW = up[1] * gx - up[0] * gy
  let X = 0
  let Y = 0
  let Z = 0
  for (let side = -1; side <= 1; side += 2)
    for (let n = 1; n <= maxOrder; n++) {
      const from = Math.max(firstWavelength, (pitch * (side * eyeU - reach)) / n)
      const to = Math.min(lastWavelength, (pitch * (side * eyeU + reach)) / n)
      if (from >= to) continue
      const m = side * n
      const last = Math.min(roomStrata - 1, ((to - firstWavelength) / stratum) | 0)
      for (let k = ((from - firstWavelength) / stratum) | 0; k <= last; k++) {
        const a = Math.max(from, firstWavelength + k * stratum)
        const b = Math.min(to, firstWavelength + (k + 1) * stratum)
        const λ = (a + b) / 2
        const u = (m * λ) / pitch - eyeU
        const z2 = reach2 - u * u
        if (z2 <= 0) continue
        const lz = Math.sqrt(z2)
        const c = 1 + upU * u + upW * w + up[2] * lz
        const cosLamp = refracted(lz, coat)
        const slant = 1 / cosLamp + 1 / cosEye
        let factor =
          (roomFloor + (1 - roomFloor) * 0.25 * c * c) *
          (1 - fresnel(lz, coat)) *
          Math.sqrt(metalAngle(tables, cosLamp)) *
          orderPower(tables, site.groove[i]!, m, pitch, site.grooveDepth[i]!, λ, coat * (cosLamp + cosEye)) *
          straightThrough(site, slant)
        if (!clear) {
          // The middle of a whole stratum lies on a node of the inks' spectra.
          const node = ((k + 0.5) * stratum) / inkStep
          preparePath(site, tables, node, node)
          const x = (slant - slants[0]) / (slants[1] - slants[0])
          factor *= betweenSlants(path[node]!, path[inkColumns + node]!, x)
        }
        const part = (factor * (b - a)) / stratum
        const left = 4 * k * stratum
        const right = left + 4 * stratum
        X += part * (light[right]! - light[left]!)
        Y += part * (light[right + 1]! - light[left + 1]!)
        Z += part * (light[right + 2]! - light[left + 2]!)
      }
    }
  const whole = scale * site.share[i]!
  out[0]! += whole * X
  out[1]! += whole * Y
  out[2]! += whole * Z
}
