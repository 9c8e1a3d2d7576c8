import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { fresnel, refracted } from '../optics/fresnel.ts'
import { maxOrder, primaryCount, roomStrata, slants, type Tables } from '../optics/tables.ts'
import { lightBetween, primaryStrata, strataSize } from './inked-strata.ts'
import { orderPower } from './order-power.ts'
import { metalAngle } from './shade-mirror.ts'

/**
 * What the orders of one grating gather from a room for one direction of the eye, before the room itself is known: for
 * each stratum of the spectrum sums over the orders of weight · {1, u, z, u², uz, slant}, where (u, w, z) is the direction
 * that an order shows in the frame of the grating and the weight is the order's power times surface and metal. The soft
 * room is a square of a linear function of the direction, so the first five are all there is to know of it.
 */
export interface RoomNode {
  /** `sums` numbers a stratum. */
  readonly strata: Float64Array
  /** The first five over all strata, each as X, Y, Z: {@link colorSize} numbers. */
  readonly colors: Float64Array
  /** The same through whites and inks, as far as they were asked for. */
  readonly filtered: Filtered[]
}

/** Nodes by the direction of the eye, as far as they were asked for. */
export type RoomGrid = (RoomNode | undefined)[]

/** Colours of a node under one thickness of white, for each primary of the inks. */
export interface Filtered {
  /** τ of the white: exp(−τ s) goes on. */
  readonly thickness: number
  /** A bit a primary that is made. */
  known: number
  readonly colors: Float64Array
}

export const sums = 6
/** Sums that a room is weighed with. */
export const moments = 5
export const colorSize = 3 * moments
const stratum = (lastWavelength - firstWavelength) / roomStrata

/** Numbers that a node holds, and each of its filters. */
export const nodeSize = sums * roomStrata + colorSize
export const filterSize = primaryCount * colorSize

/**
 * @param groove       index in the tables
 * @param depth, pitch nm
 * @param eyeU, eyeW   of the eye's unit vector along and across the grating vector
 */
export function roomNode(
  tables: Tables,
  groove: number,
  depth: number,
  pitch: number,
  eyeU: number,
  eyeW: number,
): RoomNode {
  const strata = new Float64Array(sums * roomStrata)
  const node: RoomNode = { strata, colors: new Float64Array(colorSize), filtered: [] }
  const { coat } = tables
  const reach2 = 1 - eyeW * eyeW
  if (reach2 <= 0) return node
  const reach = Math.sqrt(reach2)
  // Nodes beyond the horizon are asked for by eyes close to it.
  const cosEye = refracted(Math.sqrt(Math.max(0, reach2 - eyeU * eyeU)), coat)
  for (let m = -maxOrder; m <= maxOrder; m++) {
    if (m === 0) continue
    const along = m < 0 ? -eyeU : eyeU
    const n = Math.abs(m)
    const from = Math.max(firstWavelength, (pitch * (along - reach)) / n)
    const to = Math.min(lastWavelength, (pitch * (along + reach)) / n)
    if (from >= to) continue
    const last = Math.min(roomStrata - 1, ((to - firstWavelength) / stratum) | 0)
    for (let k = ((from - firstWavelength) / stratum) | 0; k <= last; k++) {
      const a = Math.max(from, firstWavelength + k * stratum)
      const b = Math.min(to, firstWavelength + (k + 1) * stratum)
      const λ = (a + b) / 2
      const u = (m * λ) / pitch - eyeU
      const z2 = reach2 - u * u
      if (z2 <= 0) continue
      const z = Math.sqrt(z2)
      const cosLamp = refracted(z, coat)
      const weight =
        ((b - a) / stratum) *
        (1 - fresnel(z, coat)) *
        Math.sqrt(metalAngle(tables, cosLamp)) *
        orderPower(tables, groove, m, pitch, depth, λ, coat * (cosLamp + cosEye))
      const at = k * sums
      strata[at]! += weight
      strata[at + 1]! += weight * u
      strata[at + 2]! += weight * z
      strata[at + 3]! += weight * u * u
      strata[at + 4]! += weight * u * z
      strata[at + 5]! += weight * (1 / cosLamp + 1 / cosEye)
    }
  }
  const light = tables.cumulative.data
  for (let k = 0; k < roomStrata; k++) {
    const left = 4 * k * stratum
    const right = left + 4 * stratum
    for (let moment = 0; moment < moments; moment++)
      for (let c = 0; c < 3; c++)
        node.colors[3 * moment + c]! += strata[k * sums + moment]! * (light[right + c]! - light[left + c]!)
  }
  return node
}

/** Its colours under white of that thickness; null where none were asked for yet. */
export function filteredBy({ filtered }: RoomNode, thickness: number): Filtered | null {
  for (let i = 0; i < filtered.length; i++) if (filtered[i]!.thickness === thickness) return filtered[i]!
  return null
}

export function newFilter({ filtered }: RoomNode, thickness: number): Filtered {
  const made = { thickness, known: 0, colors: new Float64Array(filterSize) }
  filtered.push(made)
  return made
}

/** Makes sure of the colours through one primary, each stratum on its own slant: {@link colorSize} numbers, primary by primary. */
export function preparePrimary(
  { strata }: RoomNode,
  filter: Filtered,
  tables: Tables,
  primary: number,
): void {
  if ((filter.known >> primary) & 1) return
  filter.known |= 1 << primary
  const { colors, thickness } = filter
  const ink = primaryStrata(tables)
  const to = primary * colorSize
  for (let k = 0, at = 0, j = primary * strataSize; k < roomStrata; k++, at += sums, j += 6) {
    const all = strata[at]!
    if (all <= 0) continue
    const slant = strata[at + 5]! / all
    const x = (slant - slants[0]) / (slants[1] - slants[0])
    const white = Math.exp(-thickness * slant)
    const X = white * lightBetween(ink[j]!, ink[j + 3]!, x)
    const Y = white * lightBetween(ink[j + 1]!, ink[j + 4]!, x)
    const Z = white * lightBetween(ink[j + 2]!, ink[j + 5]!, x)
    for (let moment = 0; moment < moments; moment++) {
      const sum = strata[at + moment]!
      colors[to + 3 * moment]! += sum * X
      colors[to + 3 * moment + 1]! += sum * Y
      colors[to + 3 * moment + 2]! += sum * Z
    }
  }
}
