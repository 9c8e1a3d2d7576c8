import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { fresnel, refracted } from '../optics/fresnel.ts'
import { maxOrder, roomStrata, type Tables } from '../optics/tables.ts'
import { orderPower } from './order-power.ts'
import { metalAngle } from './shade-mirror.ts'

/**
 * What the orders of one grating gather from a room, before the room itself is known: for each stratum of the spectrum
 * sums over the orders of weight · {1, u, z, u², uz, slant}, where (u, w, z) is the direction that an order shows in the
 * frame of the grating and the weight is the order's power times surface and metal. The soft room is a square of a
 * linear function of the direction, so these sums are all there is to know of it.
 */
export const sums = 6
export const stratum = (lastWavelength - firstWavelength) / roomStrata
/** Numbers of a node by strata; after them the first five sums as X, Y, Z, each sum's three together. */
export const byStrata = sums * roomStrata
const asColor = 15
const nodeSize = byStrata + asColor
const none = new Float64Array(nodeSize)

/** Nodes of the eye's direction along and across the grating vector, a unit. */
const fineness = 64
const side = 2 * fineness + 1
/** Pitches this close, relative, are one: directions then move by less than 0.0025. */
const pitchStep = 0.0025
/** Nodes that are kept; beyond it all are made anew. Some 40 MB. */
const mostNodes = 40_000

/** Four nodes around a direction of the eye, and the part of each; overwritten by the next question. */
export interface RoomCell {
  a: Float64Array
  b: Float64Array
  c: Float64Array
  d: Float64Array
  partA: number
  partB: number
  partC: number
  partD: number
}

/** The sums by grating and direction of the eye; kept with the tables, made when first asked for. */
class RoomOrders {
  readonly #tables: Tables
  readonly #grids = new Map<number, (Float64Array | undefined)[]>()
  readonly #cell: RoomCell = { a: none, b: none, c: none, d: none, partA: 0, partB: 0, partC: 0, partD: 0 }
  #nodes = 0
  #groove = -1
  #depth = -1
  #pitch = -1
  #step = 0
  #column = -1
  #row = -1
  #grid: (Float64Array | undefined)[] = []

  constructor(tables: Tables) {
    this.#tables = tables
  }

  /**
   * Straight between the four nodes around the eye.
   * @param eyeU, eyeW of the eye's unit vector along and across the grating vector; the sign of eyeW does not matter
   */
  around(groove: number, depth: number, pitch: number, eyeU: number, eyeW: number): RoomCell {
    if (pitch !== this.#pitch || depth !== this.#depth || groove !== this.#groove || this.#nodes > mostNodes)
      this.#open(groove, depth, pitch)
    const cell = this.#cell
    const x = (eyeU + 1) * fineness
    const y = Math.abs(eyeW) * fineness
    const i = Math.min(x | 0, side - 2)
    const j = Math.min(y | 0, fineness - 1)
    if (i !== this.#column || j !== this.#row) {
      this.#column = i
      this.#row = j
      cell.a = this.#node(i, j)
      cell.b = this.#node(i + 1, j)
      cell.c = this.#node(i, j + 1)
      cell.d = this.#node(i + 1, j + 1)
    }
    const p = x - i
    const q = y - j
    cell.partA = (1 - p) * (1 - q)
    cell.partB = p * (1 - q)
    cell.partC = (1 - p) * q
    cell.partD = p * q
    return cell
  }

  /** Neighbours mostly have the same grating: the grid of the last one stays at hand. */
  #open(groove: number, depth: number, pitch: number): void {
    if (this.#nodes > mostNodes) {
      this.#grids.clear()
      this.#nodes = 0
    }
    this.#groove = groove
    this.#depth = depth
    this.#pitch = pitch
    this.#column = -1
    this.#step = Math.round(Math.log(pitch / 100) / pitchStep)
    const key = (this.#step * 256 + Math.round(depth)) * 64 + groove
    let grid = this.#grids.get(key)
    if (grid === undefined) {
      grid = []
      this.#grids.set(key, grid)
    }
    this.#grid = grid
  }

  #node(i: number, j: number): Float64Array {
    const at = j * side + i
    let node = this.#grid[at]
    if (node === undefined) {
      const pitch = 100 * Math.exp(this.#step * pitchStep)
      node = gather(this.#tables, this.#groove, this.#depth, pitch, i / fineness - 1, j / fineness)
      this.#grid[at] = node
      this.#nodes++
    }
    return node
  }
}

const kept = new WeakMap<Tables, RoomOrders>()
let lastTables: Tables | null = null
let lastOrders: RoomOrders | null = null

export function roomOrders(tables: Tables): RoomOrders {
  if (lastOrders !== null && lastTables === tables) return lastOrders
  let orders = kept.get(tables)
  if (orders === undefined) {
    orders = new RoomOrders(tables)
    kept.set(tables, orders)
  }
  lastTables = tables
  lastOrders = orders
  return orders
}

function gather(
  tables: Tables,
  groove: number,
  depth: number,
  pitch: number,
  eyeU: number,
  eyeW: number,
): Float64Array {
  const out = new Float64Array(nodeSize)
  const { coat } = tables
  const reach2 = 1 - eyeW * eyeW
  if (reach2 <= 0) return out
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
      out[at]! += weight
      out[at + 1]! += weight * u
      out[at + 2]! += weight * z
      out[at + 3]! += weight * u * u
      out[at + 4]! += weight * u * z
      out[at + 5]! += weight * (1 / cosLamp + 1 / cosEye)
    }
  }
  const light = tables.cumulative.data
  for (let k = 0; k < roomStrata; k++) {
    const left = 4 * k * stratum
    const right = left + 4 * stratum
    for (let moment = 0; moment < 5; moment++)
      for (let c = 0; c < 3; c++)
        out[byStrata + 3 * moment + c]! += out[k * sums + moment]! * (light[right + c]! - light[left + c]!)
  }
  return out
}
