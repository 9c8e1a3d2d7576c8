/**
 * Distance of each pixel's middle from the nearest middle outside, in pixels; 0 outside. Exact. All beyond the raster
 * counts as outside. Columns are walked both ways; then each run of a row takes the lower envelope of its columns'
 * parabolas, those of the run alone, because the pixel that ends it is nearer than all beyond.
 * Source: Felzenszwalb & Huttenlocher, Distance Transforms of Sampled Functions, Theory of Computing 8 (2012), 415–428.
 * @param inside  1 inside, 0 outside, row by row
 */
export function distances(inside: Uint8Array, width: number, height: number): Float32Array {
  const out = new Float32Array(width * height)
  const last = width * (height - 1)
  for (let i = 0; i < out.length; i++) if (inside[i] === 1) out[i] = 1 + (i >= width ? out[i - width]! : 0)
  for (let i = out.length - 1; i >= 0; i--)
    if (inside[i] === 1) out[i] = Math.min(out[i]!, 1 + (i < last ? out[i + width]! : 0))
  const line = new Envelope(width + 2)
  const { values, result } = line
  for (let row = 0; row < out.length; row += width)
    for (let from = 0; from < width; from++) {
      if (inside[row + from] === 0) continue
      let to = from
      while (to < width && inside[row + to] === 1) to++
      const count = to - from
      values[0] = 0
      values[count + 1] = 0
      for (let x = 0; x < count; x++) values[x + 1] = out[row + from + x]! ** 2
      line.solve(count + 2)
      for (let x = 0; x < count; x++) out[row + from + x] = Math.sqrt(result[x + 1]!)
      from = to
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
