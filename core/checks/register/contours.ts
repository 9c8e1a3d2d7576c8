import type { Rings } from '../../base/polygons.ts'

/**
 * Follows the edge of a coverage row by row from above: it runs between pixels of more and of less than one half, where
 * their areas say. Beyond the picture there is nothing. Only edges are kept, so a large picture costs what its edges do.
 */
export class ContourTracer {
  readonly #width: number
  readonly #pixelMm: readonly [x: number, y: number]
  readonly #heightMm: number
  #above: Float32Array
  /** Nothing lies in the row above. */
  #bare = true
  #row = 0
  /** Crossings by the side of a cell that they lie on. */
  readonly #numbers = new Map<number, number>()
  readonly #places: number[] = []
  readonly #next: number[] = []

  /** @param pixelMm size of a pixel; @param heightMm of the picture, whose lower left corner is 0, 0 */
  constructor(width: number, pixelMm: readonly [x: number, y: number], heightMm: number) {
    this.#width = width
    this.#pixelMm = pixelMm
    this.#heightMm = heightMm
    this.#above = new Float32Array(width)
  }

  /** The next row, coverage 0..1. */
  push(row: Float32Array): void {
    const bare = isBare(row)
    if (bare && this.#bare) {
      this.#row++
      return
    }
    this.#bare = bare
    const above = this.#above
    let [a, c] = [0, 0]
    for (let x = 0; x <= this.#width; x++) {
      const b = x < this.#width ? above[x]! : 0
      const d = x < this.#width ? row[x]! : 0
      const which = (a >= half ? 1 : 0) | (b >= half ? 2 : 0) | (c >= half ? 4 : 0) | (d >= half ? 8 : 0)
      if (which !== 0 && which !== 15) this.#cell(x, a, b, c, d, which)
      a = b
      c = d
    }
    this.#above = row.slice()
    this.#row++
  }

  /** Closed rings, mm, y up; what is inside lies on the left. */
  finish(): Rings {
    this.push(new Float32Array(this.#width))
    const rings: [number, number][][] = []
    const seen = new Uint8Array(this.#next.length)
    for (let start = 0; start < seen.length; start++) {
      if (seen[start] === 1) continue
      const ring: [number, number][] = []
      for (let at = start; seen[at] === 0; at = this.#next[at]!) {
        seen[at] = 1
        ring.push([this.#places[2 * at]!, this.#places[2 * at + 1]!])
      }
      if (ring.length > 2) rings.push(ring)
    }
    return rings
  }

  /** The cell between the middles of four pixels: a, b above, c, d below; left, right. */
  #cell(x: number, a: number, b: number, c: number, d: number, which: number): void {
    // Two opposite corners that are covered are joined where the middle is.
    const joined = (which === 6 || which === 9) && (a + b + c + d) / 4 >= half
    for (const [from, to] of joined ? joinedWays[which]! : ways[which]!)
      this.#join(this.#crossing(x, from, a, b, c, d), this.#crossing(x, to, a, b, c, d))
  }

  #join(from: number, to: number): void {
    this.#next[from] = to
  }

  /** Number of the crossing on a side of a cell. */
  #crossing(x: number, side: Side, a: number, b: number, c: number, d: number): number {
    const from = side === lower ? c : side === right ? b : a
    const to = side === upper ? b : side === left ? c : d
    const level = side < 2
    const [column, row] = level ? [x, this.#row + side] : [x + side - 2, this.#row]
    const id = ((row * (this.#width + 2) + column) << 1) + (level ? 0 : 1)
    const known = this.#numbers.get(id)
    if (known !== undefined) return known
    // What two pixels hold together tells where an edge between them runs: exact for one that leaves both of them full
    // or empty but for itself, where a line between their values would be out by up to 0.09.
    const kept = Math.min(1, Math.max(0, from + to - half))
    const part = from >= half ? kept : 1 - kept
    const px = level ? column - 0.5 + part : column - 0.5
    const py = level ? row - 0.5 : row - 0.5 + part
    const number = this.#next.length
    this.#numbers.set(id, number)
    this.#places.push(px * this.#pixelMm[0], this.#heightMm - py * this.#pixelMm[1])
    this.#next.push(number)
    return number
  }
}

const half = 0.5

function isBare(row: Float32Array): boolean {
  for (let x = 0; x < row.length; x++) if (row[x] !== 0) return false
  return true
}

const upper = 0
const lower = 1
const left = 2
const right = 3
type Side = typeof upper | typeof lower | typeof left | typeof right
type Ways = readonly (readonly [from: Side, to: Side])[]

/** Ways through a cell with the covered part on the left, by its covered corners: 1 a, 2 b, 4 c, 8 d. */
const ways: readonly Ways[] = [
  [],
  [[left, upper]],
  [[upper, right]],
  [[left, right]],
  [[lower, left]],
  [[lower, upper]],
  [
    [upper, right],
    [lower, left],
  ],
  [[lower, right]],
  [[right, lower]],
  [
    [left, upper],
    [right, lower],
  ],
  [[upper, lower]],
  [[left, lower]],
  [[right, left]],
  [[right, upper]],
  [[upper, left]],
  [],
]
const joinedWays: Readonly<Record<number, Ways>> = {
  6: [
    [upper, left],
    [lower, right],
  ],
  9: [
    [left, lower],
    [right, upper],
  ],
}
