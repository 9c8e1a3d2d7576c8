import { fresnel, refracted } from '../optics/fresnel.ts'
import type { Direction } from '../optics/rays.ts'
import { roomFloor } from '../optics/room.ts'
import { hazeWavelength, roomStrata, slants, type Tables } from '../optics/tables.ts'
import { inkedStrata, lightBetween } from './inked-strata.ts'
import { byStrata, roomOrders, stratum, sums } from './room-orders.ts'
import { metalAngle, orderZero, plainMirror } from './shade-mirror.ts'
import { addScattered, straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'
import { hazeGrowth, smoothness } from './smoothness.ts'

/** Whites that let less than this of a straight ray through, there and back, show no order. */
export const noLight = 1e-6

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
    const open = straightThrough(site, slants[0]) >= noLight
    for (let i = 0; open && i < site.gratings; i++)
      if (site.share[i]! > 0 && site.pitch[i]! > 0) addOrders(site, tables, i, up, scale, out)
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

const gathered = new Float64Array(byStrata)

/** All other orders of grating i. */
function addOrders(
  site: Site,
  tables: Tables,
  i: number,
  up: Direction,
  scale: number,
  out: Float64Array,
): void {
  const light = tables.cumulative.data
  const { clear } = site.print
  const gx = site.directionX[i]!
  const gy = site.directionY[i]!
  const eyeU = site.eyeX * gx + site.eyeY * gy
  const w = site.eyeX * gy - site.eyeY * gx
  const upU = up[0] * gx + up[1] * gy
  const upZ = up[2]
  const across = 1 + (up[1] * gx - up[0] * gy) * w
  const white = whitened(site)
  const bare = clear && !white
  const orders = roomOrders(tables)
  orders.read(site.groove[i]!, site.grooveDepth[i]!, site.pitch[i]!, eyeU, w, bare, gathered)
  const whole = scale * site.share[i]!
  if (bare) {
    for (let c = 0; c < 3; c++) out[c]! += whole * seenOf(gathered, c, 3, across, upU, upZ, w)
    return
  }
  let X = 0
  let Y = 0
  let Z = 0
  for (let k = 0; k < roomStrata; k++) {
    const at = k * sums
    const all = gathered[at]!
    if (all <= 0) continue
    let part = seenOf(gathered, at, 1, across, upU, upZ, w)
    if (white || !clear) {
      const slant = gathered[at + 5]! / all
      if (white) part *= straightThrough(site, slant)
      if (!clear) {
        const x = (slant - slants[0]) / (slants[1] - slants[0])
        const ink = inkedStrata(site, tables)
        const j = 6 * k
        X += part * lightBetween(ink[j]!, ink[j + 3]!, x)
        Y += part * lightBetween(ink[j + 1]!, ink[j + 4]!, x)
        Z += part * lightBetween(ink[j + 2]!, ink[j + 5]!, x)
        continue
      }
    }
    const left = 4 * k * stratum
    const right = left + 4 * stratum
    X += part * (light[right]! - light[left]!)
    Y += part * (light[right + 1]! - light[left + 1]!)
    Z += part * (light[right + 2]! - light[left + 2]!)
  }
  out[0]! += whole * X
  out[1]! += whole * Y
  out[2]! += whole * Z
}

/** Light of the room by the five sums at `at`, `at + step`…: those of (across + upU u + upZ z)², u² + w² + z² = 1. */
function seenOf(
  sum: Float64Array,
  at: number,
  step: number,
  across: number,
  upU: number,
  upZ: number,
  w: number,
): number {
  const all = sum[at]!
  const uu = sum[at + 3 * step]!
  const square =
    across * across * all +
    2 * across * (upU * sum[at + step]! + upZ * sum[at + 2 * step]!) +
    upU * upU * uu +
    2 * upU * upZ * sum[at + 4 * step]! +
    upZ * upZ * ((1 - w * w) * all - uu)
  return roomFloor * all + (1 - roomFloor) * 0.25 * square
}

function whitened({ whites }: Site): boolean {
  for (let i = 0; i < whites.length; i++) if (whites[i]! > 0) return true
  return false
}
