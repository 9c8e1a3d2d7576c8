import type { Sampled } from './nodes.ts'

/** Reads fields along rows of pixels, whichever way their own rows run. */
export class FieldRows {
  readonly #shape: Float32Array
  readonly #unused: Float32Array

  /** @param width  pixels of the longest row */
  constructor(width: number) {
    this.#shape = new Float32Array(width)
    this.#unused = new Float32Array(width)
  }

  /**
   * Reads pixels from..to of the row that begins at pixel (left, y), which need not be whole. Amounts go to `into` in the
   * order of the field's inks (null: not wanted), and `shape` is multiplied by how much of each pixel is painted.
   */
  read(
    { field, fromPixels: [a, b, c, d, e, f] }: Sampled,
    left: number,
    y: number,
    from: number,
    to: number,
    into: readonly (Float32Array | null)[],
    shape: Float32Array,
  ): void {
    const count = to - from
    const x0 = left + from + 0.5
    const y0 = y + 0.5
    const startX = a * x0 + c * y0 + e
    const startY = b * x0 + d * y0 + f
    const step = Math.hypot(a, b)
    const cut = (row: Float32Array | null, at: number, length: number) =>
      (row ?? this.#unused).subarray(at, at + length)
    const isLevel = Math.abs(b) <= 1e-9 * step
    if (isLevel && a > 0) {
      field.row(
        startX,
        startY,
        step,
        count,
        into.map(row => cut(row, from, count)),
        this.#shape,
      )
      for (let x = 0; x < count; x++) shape[from + x]! *= this.#shape[x]!
    } else if (isLevel) {
      const rows = into.map(row => cut(row, from, count))
      field.row(startX + a * (count - 1), startY, step, count, rows, this.#shape)
      for (const row of new Set(rows)) row.reverse()
      for (let x = 0; x < count; x++) shape[from + x]! *= this.#shape[count - 1 - x]!
    } else
      for (let x = 0; x < count; x++) {
        if (shape[from + x] === 0) continue
        const rows = into.map(row => cut(row, from + x, 1))
        field.row(startX + a * x, startY + b * x, step, 1, rows, this.#shape)
        shape[from + x]! *= this.#shape[0]!
      }
  }
}
