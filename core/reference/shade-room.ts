import { fresnel, refracted } from '../optics/fresnel.ts'
import type { Direction } from '../optics/rays.ts'
import { roomFloor } from '../optics/room.ts'
import { hazeWavelength, roomStrata, slants, type Tables } from '../optics/tables.ts'
import { inkedStrata, lightBetween } from './inked-strata.ts'
import { byStrata, type RoomCell, roomOrders, sums } from './room-orders.ts'
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
  if (site.metal > 0) addRoomInMetal(site, tables, up, level, out)
  const { white } = tables
  const shine = fresnel(site.eyeZ, tables.coat) * roomImage(site, up, level)
  out[0]! += shine * white[0]
  out[1]! += shine * white[1]
  out[2]! += shine * white[2]
  if (scattering) addRoomScattered(site, tables, up, level, out)
}

/** Light of the room in the eye's mirror direction. */
export function roomImage({ eyeX, eyeY, eyeZ }: Site, up: Direction, level: number): number {
  return level * radiance(up, -eyeX, -eyeY, eyeZ)
}

/** The room in all orders. */
export function addRoomInMetal(
  site: Site,
  tables: Tables,
  up: Direction,
  level: number,
  out: Float64Array,
): void {
  const { coat } = tables
  const glossy = fresnel(site.eyeZ, coat)
  const image = roomImage(site, up, level)
  const cosEye = refracted(site.eyeZ, coat)
  const leaving = site.metal * (1 - glossy)
  addImage(site, tables, cosEye, leaving * (1 - glossy) * image, out)
  const scale = leaving * level * Math.sqrt(metalAngle(tables, cosEye))
  const open = straightThrough(site, slants[0]) >= noLight
  for (let i = 0; open && i < site.gratings; i++)
    if (site.share[i]! > 0 && site.pitch[i]! > 0) addOrders(site, tables, i, up, scale, out)
}

/** What whites and board scatter of a room; `level` may hold what dims both ways. */
export function addRoomScattered(
  site: Site,
  tables: Tables,
  up: Direction,
  level: number,
  out: Float64Array,
): void {
  const slant = 2 / refracted(site.eyeZ, tables.coat)
  const mean = level * (roomFloor + (1 - roomFloor) * 0.25 * (1 + (4 / 3) * up[2] + (1 + up[2] * up[2]) / 4))
  addScattered(site, tables, slant, tables.evenlyEntering, mean, out)
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

/** What the five sums count for the room's light, as it is seen here: those of (across + upU u + upZ z)², u² + w² + z² = 1. */
const counts = new Float64Array(5)

/** All other orders of grating i. */
function addOrders(
  site: Site,
  tables: Tables,
  i: number,
  up: Direction,
  scale: number,
  out: Float64Array,
): void {
  const gx = site.directionX[i]!
  const gy = site.directionY[i]!
  const eyeU = site.eyeX * gx + site.eyeY * gy
  const w = site.eyeX * gy - site.eyeY * gx
  const upU = up[0] * gx + up[1] * gy
  const upZ = up[2]
  const across = 1 + (up[1] * gx - up[0] * gy) * w
  const whole = scale * site.share[i]!
  const half = whole * (1 - roomFloor) * 0.25
  counts[0] = whole * roomFloor + half * (across * across + upZ * upZ * (1 - w * w))
  counts[1] = 2 * half * across * upU
  counts[2] = 2 * half * across * upZ
  counts[3] = half * (upU * upU - upZ * upZ)
  counts[4] = 2 * half * upU * upZ
  const cell = roomOrders(tables).around(site.groove[i]!, site.grooveDepth[i]!, site.pitch[i]!, eyeU, w)
  if (site.print.clear && !whitened(site)) addClear(cell, out)
  else addFiltered(site, tables, cell, out)
}

/** Nothing on the metal: the sums of each node are colours. */
function addClear({ a, b, c, d, partA, partB, partC, partD }: RoomCell, out: Float64Array): void {
  let X = 0
  let Y = 0
  let Z = 0
  for (let sum = 0, at = byStrata; sum < 5; sum++, at += 3) {
    const count = counts[sum]!
    const countA = count * partA
    const countB = count * partB
    const countC = count * partC
    const countD = count * partD
    X += countA * a[at]! + countB * b[at]! + countC * c[at]! + countD * d[at]!
    Y += countA * a[at + 1]! + countB * b[at + 1]! + countC * c[at + 1]! + countD * d[at + 1]!
    Z += countA * a[at + 2]! + countB * b[at + 2]! + countC * c[at + 2]! + countD * d[at + 2]!
  }
  out[0]! += X
  out[1]! += Y
  out[2]! += Z
}

/** Whites and inks dim stratum by stratum, each on its own slant. */
function addFiltered(
  site: Site,
  tables: Tables,
  { a, b, c, d, partA, partB, partC, partD }: RoomCell,
  out: Float64Array,
): void {
  const ink = inkedStrata(site, tables)
  const white = whitened(site)
  const count0 = counts[0]!
  const count1 = counts[1]!
  const count2 = counts[2]!
  const count3 = counts[3]!
  const count4 = counts[4]!
  let X = 0
  let Y = 0
  let Z = 0
  for (let k = 0, at = 0, j = 0; k < roomStrata; k++, at += sums, j += 6) {
    const all = partA * a[at]! + partB * b[at]! + partC * c[at]! + partD * d[at]!
    if (all <= 0) continue
    const u = partA * a[at + 1]! + partB * b[at + 1]! + partC * c[at + 1]! + partD * d[at + 1]!
    const z = partA * a[at + 2]! + partB * b[at + 2]! + partC * c[at + 2]! + partD * d[at + 2]!
    const uu = partA * a[at + 3]! + partB * b[at + 3]! + partC * c[at + 3]! + partD * d[at + 3]!
    const uz = partA * a[at + 4]! + partB * b[at + 4]! + partC * c[at + 4]! + partD * d[at + 4]!
    const slant = (partA * a[at + 5]! + partB * b[at + 5]! + partC * c[at + 5]! + partD * d[at + 5]!) / all
    let part = count0 * all + count1 * u + count2 * z + count3 * uu + count4 * uz
    if (white) part *= straightThrough(site, slant)
    const x = (slant - slants[0]) / (slants[1] - slants[0])
    X += part * lightBetween(ink[j]!, ink[j + 3]!, x)
    Y += part * lightBetween(ink[j + 1]!, ink[j + 4]!, x)
    Z += part * lightBetween(ink[j + 2]!, ink[j + 5]!, x)
  }
  out[0]! += X
  out[1]! += Y
  out[2]! += Z
}

function whitened({ whites, apart }: Site): boolean {
  if (apart !== null) return true
  for (let i = 0; i < whites.length; i++) if (whites[i]! > 0) return true
  return false
}
