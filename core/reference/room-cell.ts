import { slants, type Tables } from '../optics/tables.ts'
import {
  colorSize,
  filteredBy,
  moments,
  newFilter,
  preparePrimary,
  type RoomGrid,
  type RoomNode,
} from './room-node.ts'
import type { Print, Site } from './site.ts'

/** Four nodes around a direction of the eye, for one grating, and the part of each. */
export class RoomCell {
  /** What it was looked up for. */
  groove = -1
  depth = -1
  /** The pitch that stands for all from `pitchFrom` up to `pitchTo`, nm. */
  pitch = 0
  pitchFrom = 0
  pitchTo = 0
  grid: RoomGrid = []
  column = -1
  row = -1
  nodes: RoomNode[] = []
  readonly parts = new Float64Array(4)
  /** Colours of the nodes, number by number: those of the four side by side. */
  readonly #clear = new Float64Array(4 * colorSize)
  readonly #filtered = new Float64Array(4 * colorSize)
  /** Inks and whites that the filtered ones are for. */
  #print: Print | null = null
  #version = -1
  #whites = new Float64Array(0)
  #newFilters = 0

  setNodes(a: RoomNode, b: RoomNode, c: RoomNode, d: RoomNode): void {
    this.nodes = [a, b, c, d]
    for (let n = 0; n < 4; n++) {
      const { colors } = this.nodes[n]!
      for (let i = 0; i < colorSize; i++) this.#clear[4 * i + n] = colors[i]!
    }
    this.#print = null
  }

  /** @param p, q place between the nodes, 0..1 along and across */
  setPlace(p: number, q: number): void {
    const { parts } = this
    parts[0] = (1 - p) * (1 - q)
    parts[1] = p * (1 - q)
    parts[2] = (1 - p) * q
    parts[3] = p * q
  }

  /** Adds the light of the room with nothing on the metal. @param counts what each of the sums counts for this room */
  addClear(counts: Float64Array, out: Float64Array): void {
    addColors(this.#clear, this.parts, counts, out)
  }

  /** The same through the whites and the process inks of a place where all lies on the board. */
  addFiltered(site: Site, tables: Tables, counts: Float64Array, out: Float64Array): void {
    if (!this.#isFor(site)) this.#filter(site, tables)
    addColors(this.#filtered, this.parts, counts, out)
  }

  /** How many filters were made since the last question. */
  takeNewFilters(): number {
    const made = this.#newFilters
    this.#newFilters = 0
    return made
  }

  #isFor({ print, whiteCover, whiteStraight }: Site): boolean {
    if (this.#print !== print || this.#version !== print.version) return false
    const whites = this.#whites
    for (let i = 0, j = 0; i < whiteCover.length; i++, j += 2)
      if (whites[j] !== whiteCover[i] || whites[j + 1] !== whiteStraight[i]) return false
    return true
  }

  /** Each overlap of the whites is an area of its own, as each primary of the inks is. */
  #filter({ print, whiteCover, whiteStraight }: Site, tables: Tables): void {
    const plates = whiteCover.length
    if (this.#whites.length !== 2 * plates) this.#whites = new Float64Array(2 * plates)
    this.#print = print
    this.#version = print.version
    for (let i = 0; i < plates; i++) {
      this.#whites[2 * i] = whiteCover[i]!
      this.#whites[2 * i + 1] = whiteStraight[i]!
    }
    this.#filtered.fill(0)
    for (let overlap = 0; overlap < 1 << plates; overlap++) {
      let area = 1
      let thickness = 0
      let solid = 0
      for (let i = 0; i < plates; i++)
        if ((overlap >> i) & 1) {
          area *= whiteCover[i]!
          thickness += whiteStraight[i]!
          solid += tables.whiteStraight[i]!
        } else area *= 1 - whiteCover[i]!
      if (area <= 0 || thickness > opaque) continue
      if (thickness === solid) this.#addFilter(print, tables, area, thickness)
      else this.#addBetween(print, tables, area, thickness)
    }
  }

  /**
   * A film of any thickness as a mixture of two of even steps: exp(−τ s) is met at two slants, and nowhere more than
   * 0.1 % off.
   */
  #addBetween(print: Print, tables: Tables, area: number, thickness: number): void {
    const below = Math.floor(thickness / thicknessStep)
    const rest = thickness - below * thicknessStep
    const [s, t] = metAt
    const whole = Math.exp(-thicknessStep * s)
    const upper = (Math.exp(-rest * s) - Math.exp(-rest * t)) / (whole - Math.exp(-thicknessStep * t))
    const lower = Math.exp(-rest * s) - upper * whole
    this.#addFilter(print, tables, area * lower, below * thicknessStep)
    this.#addFilter(print, tables, area * upper, (below + 1) * thicknessStep)
  }

  #addFilter({ count, primary, area }: Print, tables: Tables, part: number, thickness: number): void {
    const to = this.#filtered
    for (let n = 0; n < 4; n++) {
      const node = this.nodes[n]!
      let filter = filteredBy(node, thickness)
      if (filter === null) {
        filter = newFilter(node, thickness)
        this.#newFilters++
      }
      const { colors } = filter
      for (let k = 0; k < count; k++) {
        const p = primary[k]!
        preparePrimary(node, filter, tables, p)
        const weight = part * area[k]!
        for (let i = 0, at = p * colorSize; i < colorSize; i++, at++) to[4 * i + n]! += weight * colors[at]!
      }
    }
  }
}

/** Whites of this thickness let through less than 1e-6 of a ray. */
const opaque = 13.8 / slants[0]
const thicknessStep = 0.25
/** Slants of rays in a coat go from 2 to 2.7. */
const metAt = [2.1, 2.5] as const

function addColors(colors: Float64Array, parts: Float64Array, counts: Float64Array, out: Float64Array): void {
  const a = parts[0]!
  const b = parts[1]!
  const c = parts[2]!
  const d = parts[3]!
  let X = 0
  let Y = 0
  let Z = 0
  for (let moment = 0, at = 0; moment < moments; moment++, at += 12) {
    const count = counts[moment]!
    X += count * (a * colors[at]! + b * colors[at + 1]! + c * colors[at + 2]! + d * colors[at + 3]!)
    Y += count * (a * colors[at + 4]! + b * colors[at + 5]! + c * colors[at + 6]! + d * colors[at + 7]!)
    Z += count * (a * colors[at + 8]! + b * colors[at + 9]! + c * colors[at + 10]! + d * colors[at + 11]!)
  }
  out[0]! += X
  out[1]! += Y
  out[2]! += Z
}
