/**
 * Distance of each pixel's middle from the nearest middle outside, in pixels; 0 outside. Exact: two passes of lower
 * envelopes of parabolas. All beyond the raster counts as outside.
 * Source: Felzenszwalb & Huttenlocher, Distance Transforms of Sampled Functions, Theory of Computing 8 (2012), 415–428.
 * @param inside  1 inside, 0 outside, row by row
 */
export function distances(inside: Uint8Array, width: number, height: number): Float32Array {
  const out = new Float32Array(width * height)
  const far = (width + height + 2) ** 2
  const n = Math.max(width, height) + 2
  const line = new Envelope(n)
  for (let x = 0; x < width; x++) {
    line.values[0] = 0
    for (let y = 0; y < height; y++) line.values[y + 1] = inside[y * width + x] === 0 ? 0 : far
    line.values[height + 1] = 0
    line.solve(height + 2)
    for (let y = 0; y < height; y++) out[y * width + x] = line.result[y + 1]!
  }
  for (let y = 0; y < height; y++) {
    line.values[0] = 0
    for (let x = 0; x < width; x++) line.values[x + 1] = out[y * width + x]!
    line.values[width + 1] = 0
    line.solve(width + 2)
    for (let x = 0; x < width; x++) out[y * width + x] = Math.sqrt(line.result[x + 1]!)
  }
  return out
}

/** Least of value(j) + (i − j)² for every i of a line. */
class Envelope {
  readonly values: Float64Array
  readonly result: Float64Array
  readonly #roots: Int32Array
  readonly #from: Float64Array

  constructor(n: number) {
    this.values = new Float64Array(n)
    this.result = new Float64Array(n)
    this.#roots = new Int32Array(n)
    this.#from = new Float64Array(n + 1)
  }

  solve(n: number): void {
    const f = this.values
    const roots = this.#roots
    const from = this.#from
    let k = 0
    roots[0] = 0
    from[0] = Number.NEGATIVE_INFINITY
    from[1] = Number.POSITIVE_INFINITY
    for (let q = 1; q < n; q++) {
      let s = crossing(f, q, roots[k]!)
      while (s <= from[k]!) {
        k--
        s = crossing(f, q, roots[k]!)
      }
      k++
      roots[k] = q
      from[k] = s
      from[k + 1] = Number.POSITIVE_INFINITY
    }
    k = 0
    for (let q = 0; q < n; q++) {
      while (from[k + 1]! < q) k++
      const d = q - roots[k]!
      this.result[q] = d * d + f[roots[k]!]!
    }
  }
}

const crossing = (f: Float64Array, q: number, r: number): number =>
  (f[q]! + q * q - (f[r]! + r * r)) / (2 * (q - r))
