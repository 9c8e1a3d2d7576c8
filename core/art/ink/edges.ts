import type { LineSink } from './flatten.ts'

/** Straight edges of a filled outline, pixels, y down, in the order of the rows in which they begin. */
export interface Edges {
  readonly count: number
  /** Upper and lower end of each. */
  readonly top: Float64Array
  readonly bottom: Float64Array
  /** x at `top`, and dx/dy. */
  readonly x: Float64Array
  readonly slope: Float64Array
  /** 1 drawn downwards, −1 upwards. */
  readonly way: Int8Array
  /** What they lie within. */
  readonly left: number
  readonly right: number
  readonly first: number
  readonly last: number
}

/** Gathers edges: every outline is closed by a straight line, as filling does. */
export class EdgeMaker implements LineSink {
  #data = new Float64Array(256)
  #length = 0
  #x = 0
  #y = 0
  #startX = 0
  #startY = 0
  #left = Number.POSITIVE_INFINITY
  #right = Number.NEGATIVE_INFINITY
  #first = Number.POSITIVE_INFINITY
  #last = Number.NEGATIVE_INFINITY

  move(x: number, y: number): void {
    this.close()
    this.#x = this.#startX = x
    this.#y = this.#startY = y
  }

  line(x: number, y: number): void {
    this.#add(this.#x, this.#y, x, y)
    this.#x = x
    this.#y = y
  }

  close(): void {
    this.#add(this.#x, this.#y, this.#startX, this.#startY)
    this.#x = this.#startX
    this.#y = this.#startY
  }

  #add(x0: number, y0: number, x1: number, y1: number): void {
    if (y0 === y1) return
    if (this.#length + 4 > this.#data.length) {
      const wider = new Float64Array(this.#data.length * 2)
      wider.set(this.#data)
      this.#data = wider
    }
    const data = this.#data
    data[this.#length] = x0
    data[this.#length + 1] = y0
    data[this.#length + 2] = x1
    data[this.#length + 3] = y1
    this.#length += 4
    this.#left = Math.min(this.#left, x0, x1)
    this.#right = Math.max(this.#right, x0, x1)
    this.#first = Math.min(this.#first, y0, y1)
    this.#last = Math.max(this.#last, y0, y1)
  }

  /** What was gathered, sorted by rows (a counting sort: files with a million edges are met). */
  edges(): Edges {
    this.close()
    const count = this.#length / 4
    const first = count === 0 ? 0 : this.#first
    const last = count === 0 ? 0 : this.#last
    const order = this.#byRow(count, Math.floor(first), Math.floor(last))
    const out = {
      count,
      top: new Float64Array(count),
      bottom: new Float64Array(count),
      x: new Float64Array(count),
      slope: new Float64Array(count),
      way: new Int8Array(count),
      left: count === 0 ? 0 : this.#left,
      right: count === 0 ? 0 : this.#right,
      first,
      last,
    }
    for (let i = 0; i < count; i++) {
      const at = order[i]! * 4
      const x0 = this.#data[at]!
      const y0 = this.#data[at + 1]!
      const x1 = this.#data[at + 2]!
      const y1 = this.#data[at + 3]!
      const down = y0 < y1
      out.top[i] = down ? y0 : y1
      out.bottom[i] = down ? y1 : y0
      out.x[i] = down ? x0 : x1
      out.slope[i] = (x1 - x0) / (y1 - y0)
      out.way[i] = down ? 1 : -1
    }
    return out
  }

  #byRow(count: number, first: number, last: number): Uint32Array {
    const rows = last - first + 1
    const rowOf = (i: number) => Math.floor(Math.min(this.#data[i * 4 + 1]!, this.#data[i * 4 + 3]!)) - first
    const order = new Uint32Array(count)
    if (rows > mostRows) {
      for (let i = 0; i < count; i++) order[i] = i
      return order.sort((i, j) => rowOf(i) - rowOf(j))
    }
    const starts = new Uint32Array(rows + 1)
    for (let i = 0; i < count; i++) starts[rowOf(i) + 1]!++
    for (let row = 0; row < rows; row++) starts[row + 1]! += starts[row]!
    for (let i = 0; i < count; i++) order[starts[rowOf(i)]!++] = i
    return order
  }
}

/** Outlines taller than this many rows are sorted by comparing: counting would take a counter a row. */
const mostRows = 1 << 17
