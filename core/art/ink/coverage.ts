import type { Edges } from './edges.ts'
import type { FillRule } from './mark.ts'
import type { Bounds } from './outline.ts'
import { Runs } from './runs.ts'

/** Lines a row where parts of an outline lie over one another. */
const linesPerRow = 16
const almost = 1e-6

/** Pixels of a page: left and right edge, first row and the one after the last. */
export interface PixelBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Takes the runs of one row; they are numbered from the left of the box that was asked for. */
export type RowSink = (y: number, runs: Runs) => void

/**
 * Shares of pixels that outlines cover. Each edge adds the area at its right in the cells that it crosses; the running
 * sum along a row is the winding number averaged over each pixel. That is exact, however thin the shape, wherever no two
 * parts of the outline lie over one another in a row; where they do (|winding| > 1, or both signs, in the sums or on two
 * lines of the row) the row is cut into 16 lines whose insides are found by the rule: exact along x, and off by at most
 * 1/32 at edges that run along a row.
 */
export class Coverage {
  readonly #sums: Float64Array
  /** A bit for each cell that an edge has touched, so that what lies between is one run. */
  readonly #touched: Uint32Array
  readonly #runs: Runs
  #width = 0
  /** Sides of the rectangle that counts: x from the left of the box, y of the page. */
  #left = 0
  #right = 0
  #from = 0
  #to = 0
  #active = new Uint32Array(64)
  #crossX = new Float64Array(64)
  #order = new Uint32Array(64)

  /** @param width  pixels of the widest box that will be asked for */
  constructor(width: number) {
    this.#sums = new Float64Array(width + 2)
    this.#touched = new Uint32Array((width >> 5) + 2)
    this.#runs = new Runs(width)
  }

  /**
   * Gives the runs of each row of `box` that the outline touches; it lies (dx, dy) pixels from where its edges say. Only
   * what lies in the rectangle `within` counts: what sticks out is pressed onto its sides, so that shares stay exact.
   */
  rows(
    edges: Edges,
    rule: FillRule,
    box: PixelBox,
    within: Bounds | null,
    dx: number,
    dy: number,
    each: RowSink,
  ): void {
    const width = box.right - box.left
    const [left, from, right, to] = within ?? [box.left, box.top, box.right, box.bottom]
    this.#left = Math.min(width, Math.max(0, left - box.left))
    this.#right = Math.min(width, Math.max(this.#left, right - box.left))
    this.#from = from
    this.#to = to
    const top = Math.max(box.top, Math.floor(Math.max(from, edges.first + dy)))
    const bottom = Math.min(box.bottom, Math.ceil(Math.min(to, edges.last + dy)))
    const whole = Math.floor(dy)
    const offset = dx - box.left
    this.#width = width
    let next = 0
    let active = 0
    for (let y = top; y < bottom; y++) {
      const rowFrom = Math.max(y, from)
      const rowTo = Math.min(y + 1, to)
      while (next < edges.count && Math.floor(edges.top[next]!) + whole <= y) {
        if (edges.bottom[next]! + dy > y) {
          if (active === this.#active.length) this.#grow()
          this.#active[active++] = next
        }
        next++
      }
      let kept = 0
      for (let k = 0; k < active; k++) {
        const i = this.#active[k]!
        const end = edges.bottom[i]! + dy
        if (end <= y) continue
        this.#active[kept++] = i
        const begin = edges.top[i]! + dy
        const y0 = Math.max(begin, rowFrom)
        const y1 = Math.min(end, rowTo)
        if (y1 <= y0) continue
        const x = edges.x[i]! + offset
        const slope = edges.slope[i]!
        this.#add(x + (y0 - begin) * slope, x + (y1 - begin) * slope, (y1 - y0) * edges.way[i]!)
      }
      active = kept
      if (active === 0) {
        if (next === edges.count) break
        continue
      }
      const isSimple =
        this.#collect(rule === 'evenodd') && (active < 4 || this.#looksSimple(edges, active, y, dy))
      if (!isSimple) {
        this.#lines(edges, rule, active, y, offset, dy)
        this.#collect(false)
      }
      if (this.#runs.count > 0) each(y, this.#runs)
    }
  }

  /** An edge's piece in this row, from xa to xb, whose height is |d|. */
  #add(from: number, to: number, height: number): void {
    let xa = Math.min(from, to)
    let xb = Math.max(from, to)
    let d = height
    const left = this.#left
    const right = this.#right
    if (xa < left || xb > right) {
      // What lies beyond a side counts as lying on it.
      if (xb <= left || xa >= right) xa = xb = xb <= left ? left : right
      else {
        const perX = d / (xb - xa)
        if (xa < left) {
          this.#cell(left, left, perX * (left - xa))
          d -= perX * (left - xa)
          xa = left
        }
        if (xb > right) {
          this.#cell(right, right, perX * (xb - right))
          d -= perX * (xb - right)
          xb = right
        }
      }
    }
    this.#cell(xa, xb, d)
  }

  /** The same of a piece that lies inside. */
  #cell(xa: number, xb: number, d: number): void {
    const sums = this.#sums
    const first = Math.floor(xa)
    if (xb <= first + 1) {
      const right = d * ((xa + xb) / 2 - first)
      sums[first]! += d - right
      sums[first + 1]! += right
      this.#touch(first)
      this.#touch(first + 1)
      return
    }
    const perCell = d / (xb - xa)
    const last = Math.ceil(xb) - 1
    // Area right of the piece in each cell that it crosses, less that of the cell before.
    const head = first + 1 - xa
    let before = (perCell * head * head) / 2
    let height0 = perCell * head
    sums[first]! += before
    this.#touch(first)
    for (let cell = first + 1; cell < last; cell++) {
      const area = height0 + perCell / 2
      sums[cell]! += area - before
      this.#touch(cell)
      before = area
      height0 += perCell
    }
    const tail = xb - last
    const area = height0 + perCell * tail * (1 - tail / 2)
    sums[last]! += area - before
    sums[last + 1]! += d - area
    this.#touch(last)
    this.#touch(last + 1)
  }

  #touch(cell: number): void {
    this.#touched[cell >> 5]! |= 1 << (cell & 31)
  }

  /** Turns the sums of a row into runs and clears them. False where parts lie over one another. */
  #collect(evenOdd: boolean): boolean {
    const runs = this.#runs
    const sums = this.#sums
    const touched = this.#touched
    const width = this.#width
    runs.count = 0
    let sum = 0
    let low = 0
    let high = 0
    let x = 0
    const words = (width >> 5) + 1
    for (let word = 0; word < words; word++) {
      let bits = touched[word]!
      if (bits === 0) continue
      touched[word] = 0
      while (bits !== 0) {
        const cell = (word << 5) + 31 - Math.clz32(bits & -bits)
        bits &= bits - 1
        const change = sums[cell]!
        sums[cell] = 0
        if (cell >= width) continue
        if (cell > x) {
          const value = share(sum, evenOdd)
          if (value > 0) runs.push(x, cell, value)
        }
        sum += change
        if (sum < low) low = sum
        if (sum > high) high = sum
        const value = share(sum, evenOdd)
        if (value > 0) runs.pushPixel(cell, value)
        x = cell + 1
      }
    }
    if (x < width) {
      const value = share(sum, evenOdd)
      if (value > 0) runs.push(x, width, value)
    }
    return high <= 1 + almost && low >= -1 - almost && (high <= almost || low >= -almost)
  }

  /** Whether the winding number keeps to 0 and 1, or to 0 and −1, on two lines of a row. */
  #looksSimple(edges: Edges, active: number, y: number, dy: number): boolean {
    return [0.25, 0.75].every(part => {
      const n = this.#cross(edges, active, y + part, 0, dy)
      let winding = 0
      let low = 0
      let high = 0
      for (let k = 0; k < n; k++) {
        winding += edges.way[this.#active[this.#order[k]!]!]!
        if (winding < low) low = winding
        if (winding > high) high = winding
      }
      return high - low <= 1
    })
  }

  /** Where active edges cross a line: sorted in `order`, which numbers them, with x in `crossX`. Returns how many do. */
  #cross(edges: Edges, active: number, at: number, offset: number, dy: number): number {
    let n = 0
    for (let k = 0; k < active; k++) {
      const i = this.#active[k]!
      const begin = edges.top[i]! + dy
      if (begin > at || edges.bottom[i]! + dy <= at) continue
      this.#crossX[k] = edges.x[i]! + offset + (at - begin) * edges.slope[i]!
      this.#order[n++] = k
    }
    sortBy(this.#order, n, this.#crossX)
    return n
  }

  /** Sums of a row anew, from the insides on lines of it. */
  #lines(edges: Edges, rule: FillRule, active: number, y: number, offset: number, dy: number): void {
    const height = 1 / linesPerRow
    for (let line = 0; line < linesPerRow; line++) {
      const at = y + (line + 0.5) * height
      if (at < this.#from || at >= this.#to) continue
      const n = this.#cross(edges, active, at, offset, dy)
      let winding = 0
      for (let k = 0; k < n; k++) {
        const crossing = this.#order[k]!
        const was = inside(winding, rule)
        winding += edges.way[this.#active[crossing]!]!
        const is = inside(winding, rule)
        const x = this.#crossX[crossing]!
        if (was !== is) this.#add(x, x, is ? height : -height)
      }
    }
  }

  #grow(): void {
    const length = this.#active.length * 2
    const wider = new Uint32Array(length)
    wider.set(this.#active)
    this.#active = wider
    this.#crossX = new Float64Array(length)
    this.#order = new Uint32Array(length)
  }
}

const inside = (winding: number, rule: FillRule): boolean =>
  rule === 'nonzero' ? winding !== 0 : (winding & 1) !== 0

/** Coverage of a mean winding number; what rounding leaves of 0 and of 1 is taken away. */
function share(sum: number, evenOdd: boolean): number {
  let value = sum < 0 ? -sum : sum
  if (evenOdd && value > 1) {
    value %= 2
    if (value > 1) value = 2 - value
  }
  return value > 1 - 1e-9 ? 1 : value < 1e-9 ? 0 : value
}

/** Sorts the first n of `order` by their keys: few by insertion, many by comparing. */
function sortBy(order: Uint32Array, n: number, key: Float64Array): void {
  if (n > 64) {
    order.subarray(0, n).sort((i, j) => key[i]! - key[j]!)
    return
  }
  for (let i = 1; i < n; i++) {
    const item = order[i]!
    const value = key[item]!
    let j = i - 1
    for (; j >= 0 && key[order[j]!]! > value; j--) order[j + 1] = order[j]!
    order[j + 1] = item
  }
}
