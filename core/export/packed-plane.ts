import { deflate, inflated } from '../base/inflate.ts'

/** Rows packed together. */
const blockRows = 64

/**
 * A plane of bytes that is filled and read row by row and held packed, so that many large ones fit into memory.
 * Reading is quickest from top to bottom.
 */
export class PackedPlane {
  readonly #blocks: Uint8Array[] = []
  readonly #filling: Uint8Array
  #filled = 0
  #open: { readonly number: number; readonly data: Uint8Array } | null = null

  constructor(
    readonly width: number,
    readonly height: number,
  ) {
    this.#filling = new Uint8Array(width * blockRows)
  }

  /** The next rows, whole ones. */
  push(rows: Uint8Array): void {
    for (let at = 0; at < rows.length; ) {
      const count = Math.min(rows.length - at, this.#filling.length - this.#filled)
      this.#filling.set(rows.subarray(at, at + count), this.#filled)
      at += count
      this.#filled += count
      const all = this.#blocks.length * this.#filling.length + this.#filled
      if (this.#filled < this.#filling.length && all < this.width * this.height) continue
      this.#blocks.push(deflate(this.#filling.subarray(0, this.#filled), 1))
      this.#filled = 0
    }
  }

  /** Rows `top` to `bottom` (not included). */
  rows(top: number, bottom: number): Uint8Array {
    const out = new Uint8Array(this.width * (bottom - top))
    for (let y = top; y < bottom; ) {
      const number = Math.floor(y / blockRows)
      const end = Math.min(bottom, (number + 1) * blockRows)
      const from = (y - number * blockRows) * this.width
      out.set(this.#block(number).subarray(from, from + (end - y) * this.width), (y - top) * this.width)
      y = end
    }
    return out
  }

  #block(number: number): Uint8Array {
    if (this.#open?.number === number) return this.#open.data
    const rows = Math.min(blockRows, this.height - number * blockRows)
    const data = inflated(this.#blocks[number]!, rows * this.width)
    this.#open = { number, data }
    return data
  }
}
