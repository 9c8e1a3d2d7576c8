import { roomFloor, roomMean, type Surround } from '../optics/room.ts'
import { hazeWavelength, roomStrata, slants, type Tables } from '../optics/tables.ts'
import { inkedStrata, lightBetween } from './inked-strata.ts'
import type { RoomCell } from './room-cell.ts'
import { moments, sums } from './room-node.ts'
import { roomOrders } from './room-orders.ts'
import { orderZero, plainMirror } from './shade-mirror.ts'
import { addScattered, straightThrough } from './shade-white.ts'
import type { Site } from './site.ts'
import { hazeGrowth, smoothness } from './smoothness.ts'

/** Whites that let less than this of a straight ray through, there and back, show no order. */
export const noLight = 1e-6

/**
 * The room. Every order shows it by direction: order 0 where the eye's mirror image looks, order m, wavelength by
 * wavelength, at l_t = −v_t + (mλ/d) g, as far as that is above the panel. What scatters gathers it from all over.
 * The ray to the eye is prepared.
 */
export function addRoom(
  site: Site,
  tables: Tables,
  room: Surround,
  scattering: boolean,
  out: Float64Array,
): void {
  if (site.metal > 0) addRoomInMetal(site, tables, room, out)
  const { white } = tables
  const shine = (1 - site.eyeLeaving) * roomImage(site, room)
  out[0]! += shine * white[0]
  out[1]! += shine * white[1]
  out[2]! += shine * white[2]
  if (scattering) addRoomScattered(site, tables, room, 1, out)
}

/** Light of the room in the eye's mirror direction. */
export function roomImage({ eyeX, eyeY, eyeZ }: Site, { up, level }: Surround): number {
  const c = 1 - up[0] * eyeX - up[1] * eyeY + up[2] * eyeZ
  return level * (roomFloor + (1 - roomFloor) * 0.25 * c * c)
}

/** The room in all orders. The ray to the eye is prepared. */
export function addRoomInMetal(site: Site, tables: Tables, room: Surround, out: Float64Array): void {
  addImage(site, tables, room, out)
  for (let i = 0; i < site.gratings; i++)
    if (site.share[i]! > 0 && site.pitch[i]! > 0) {
      addOrders(site, tables, room, out)
      return
    }
}

/** What whites and board scatter of a room. @param left what dims it both ways */
export function addRoomScattered(
  site: Site,
  tables: Tables,
  { up, level }: Surround,
  left: number,
  out: Float64Array,
): void {
  addScattered(site, tables, 2 / site.eyeCos, tables.evenlyEntering, left * level * roomMean(up), out)
}

/** Order 0 of the gratings and the mirror between them. */
function addImage(site: Site, tables: Tables, room: Surround, out: Float64Array): void {
  const { eyeCos, eyeLeaving, eyeMetal, print, gratings } = site
  const slant = 2 / eyeCos
  const q = 2 * tables.coat * eyeCos
  const { haze } = tables
  const reflected = site.metal * eyeLeaving * eyeLeaving * eyeMetal * eyeMetal * roomImage(site, room)
  const passing = whitened(site) ? reflected * straightThrough(site, slant) : reflected
  const scale = haze === null ? passing : passing * smoothness(tables, q, hazeWavelength)
  const x = (slant - slants[0]) / (slants[1] - slants[0])
  const { mirror, groove } = print
  let bare = 1
  for (let i = 0; i < gratings; i++) {
    const share = site.share[i]!
    if (share <= 0) continue
    bare -= share
    orderZero(site, tables, i, q, x, groove)
    out[0]! += scale * share * groove[0]!
    out[1]! += scale * share * groove[1]!
    out[2]! += scale * share * groove[2]!
  }
  if (bare <= 0 && haze === null) return
  plainMirror(site, x, mirror)
  if (bare > 0) for (let c = 0; c < 3; c++) out[c]! += scale * bare * mirror[c]!
  if (haze === null) return
  // The haze lies around the mirror image.
  const k = passing * hazeGrowth(tables, q)
  for (let c = 0; c < 3; c++) out[c]! += k * haze.color[c]! * (mirror[c]! / tables.orderZero.data[c]!)
}

/** What the five sums count for the room's light, as it is seen here: those of (across + upU u + upZ z)², u² + w² + z² = 1. */
const counts = new Float64Array(moments)

/** All other orders of the gratings. */
function addOrders(site: Site, tables: Tables, { up, level }: Surround, out: Float64Array): void {
  const white = whitened(site)
  if (white && straightThrough(site, slants[0]) < noLight) return
  const upX = up[0]
  const upY = up[1]
  const upZ = up[2]
  const scale = site.metal * site.eyeLeaving * site.eyeMetal * level
  const orders = roomOrders(tables)
  const clear = site.print.clear && !white
  const together = site.apart === null && noSpots(site)
  for (let i = 0; i < site.gratings; i++) {
    const whole = scale * site.share[i]!
    if (whole <= 0 || site.pitch[i]! <= 0) continue
    const gx = site.directionX[i]!
    const gy = site.directionY[i]!
    const w = site.eyeX * gy - site.eyeY * gx
    const upU = upX * gx + upY * gy
    const across = 1 + (upY * gx - upX * gy) * w
    const half = whole * (1 - roomFloor) * 0.25
    counts[0] = whole * roomFloor + half * (across * across + upZ * upZ * (1 - w * w))
    counts[1] = 2 * half * across * upU
    counts[2] = 2 * half * across * upZ
    counts[3] = half * (upU * upU - upZ * upZ)
    counts[4] = 2 * half * upU * upZ
    const cell = orders.around(site, i)
    if (clear) cell.addClear(counts, out)
    else if (together) cell.addFiltered(site, tables, counts, out)
    else addApart(site, tables, cell, out)
  }
}

function noSpots({ spots }: Site): boolean {
  for (let i = 0; i < spots.length; i++) if (spots[i]! > 0) return false
  return true
}

/** Whites and inks that lie apart, or spot inks, dim stratum by stratum, each on its own slant. */
function addApart(site: Site, tables: Tables, { nodes, parts }: RoomCell, out: Float64Array): void {
  const a = nodes[0]!.strata
  const b = nodes[1]!.strata
  const c = nodes[2]!.strata
  const d = nodes[3]!.strata
  const partA = parts[0]!
  const partB = parts[1]!
  const partC = parts[2]!
  const partD = parts[3]!
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
