/**
 * What is covered of one row of pixels: runs from left to right, each of one coverage, or of coverages that change from
 * pixel to pixel.
 */
export class Runs {
  count = 0
  /** First pixel of each run, and the one after its last. */
  from: Int32Array
  to: Int32Array
  /** Coverage of all its pixels, 0 < value <= 1; {@link varied} where each has its own in `cover`. */
  value: Float32Array
  /** By pixel, numbered from the left edge of what the runs are made for. */
  readonly cover: Float32Array

  /** @param width  pixels */
  constructor(width: number) {
    this.from = new Int32Array(64)
    this.to = new Int32Array(64)
    this.value = new Float32Array(64)
    this.cover = new Float32Array(width + 1)
  }

  push(from: number, to: number, value: number): void {
    if (this.count === this.from.length) {
      this.from = grown(this.from, new Int32Array(this.count * 2))
      this.to = grown(this.to, new Int32Array(this.count * 2))
      this.value = grown(this.value, new Float32Array(this.count * 2))
    }
    this.from[this.count] = from
    this.to[this.count] = to
    this.value[this.count] = value
    this.count++
  }

  /** One more pixel at the right. */
  pushPixel(x: number, cover: number): void {
    this.cover[x] = cover
    const last = this.count - 1
    if (last >= 0 && this.value[last] === varied && this.to[last] === x) this.to[last] = x + 1
    else this.push(x, x + 1, varied)
  }
}

export const varied = -1

function grown<T extends Int32Array | Float32Array>(from: T, into: T): T {
  into.set(from)
  return into
}
