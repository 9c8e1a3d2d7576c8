/** One grating as it enters a mean, and as it comes out. Vectors in cycles/µm, variances in their square. */
export interface GratingMoment {
  /** Grating vector, x right, y up; 0,0 where there is none. */
  kx: number
  ky: number
  /** Variance of the vector along and across itself. */
  along: number
  across: number
  /** Area × share, >= 0. */
  weight: number
  /** nm */
  depth: number
  /** Index into the map's `grooves`. */
  groove: number
}

export function emptyMoment(): GratingMoment {
  return { kx: 0, ky: 0, along: 0, across: 0, weight: 0, depth: 0, groove: 0 }
}

const fields = 7

/**
 * Averages gratings by the structure tensor of their vectors, float64: T = Σ w (κκᵀ + C) / Σ w. Its main axis g is the
 * direction; the pitch follows from the mean of |κ·g|, so that a vector and its opposite are the same grating;
 * what is left of T along and across g are the two variances. T therefore outlives the mean unchanged, and equal
 * gratings leave no variance. The sign of the result is the side where most of the weight points, which keeps a
 * blaze; opposed blazes within one pixel cannot be told apart afterwards. Groove depth is the weighted mean, groove
 * the heaviest.
 * Source: the tensor after Bigün & Granlund, "Optimal orientation detection of linear symmetry", ICCV 1987; second
 * moments as filterable map contents after Olano & Baker, "LEAN mapping", I3D 2010.
 */
export class GratingMean {
  #parts = new Float64Array(fields * 16)
  #count = 0

  clear(): void {
    this.#count = 0
  }

  add(
    kx: number,
    ky: number,
    along: number,
    across: number,
    weight: number,
    depth: number,
    groove: number,
  ): void {
    if (weight <= 0) return
    const at = this.#count * fields
    if (at + fields > this.#parts.length) {
      const wider = new Float64Array(this.#parts.length * 2)
      wider.set(this.#parts)
      this.#parts = wider
    }
    const p = this.#parts
    p[at] = kx
    p[at + 1] = ky
    p[at + 2] = along
    p[at + 3] = across
    p[at + 4] = weight
    p[at + 5] = depth
    p[at + 6] = groove
    this.#count++
  }

  /** The mean of what was added since `clear`; weight is the sum, and 0 when nothing was (the rest means nothing then). */
  mean(out: GratingMoment): GratingMoment {
    const p = this.#parts
    const end = this.#count * fields
    if (this.#count === 1) return single(p, out)
    let xx = 0
    let xy = 0
    let yy = 0
    let weight = 0
    let depth = 0
    let alike = true
    for (let i = 0; i < end; i += fields) {
      const x = p[i]!
      const y = p[i + 1]!
      const w = p[i + 4]!
      const size = x * x + y * y
      const along = p[i + 2]!
      const across = p[i + 3]!
      // C = along·uuᵀ + across·(I − uuᵀ), u = κ/|κ|.
      const turn = size > 0 && along !== across ? (along - across) / size : 0
      xx += w * (x * x * (1 + turn) + across)
      xy += w * (x * y * (1 + turn))
      yy += w * (y * y * (1 + turn) + across)
      weight += w
      depth += w * p[i + 5]!
      if (x !== p[0] || y !== p[1] || along + across > 0) alike = false
    }
    out.weight = weight
    if (weight === 0) return out
    out.depth = depth / weight
    out.groove = this.#heaviestGroove(end)
    if (alike) {
      out.kx = p[0]!
      out.ky = p[1]!
      out.along = 0
      out.across = 0
      return out
    }
    // The main axis, at half the angle of (xx − yy, 2 xy), by the larger of cosine and sine: the other follows from it.
    const difference = xx - yy
    const length = Math.sqrt(difference * difference + 4 * xy * xy)
    if (length === 0) this.#project(1, 0, weight, end, out)
    else if (difference >= 0) {
      const cos = Math.sqrt((1 + difference / length) / 2)
      this.#project(cos, xy / (length * cos), weight, end, out)
    } else {
      const sin = Math.sqrt((1 - difference / length) / 2) * (xy < 0 ? -1 : 1)
      this.#project(xy / (length * sin), sin, weight, end, out)
    }
    return out
  }

  #project(gx: number, gy: number, weight: number, end: number, out: GratingMoment): void {
    const p = this.#parts
    let sum = 0
    let signed = 0
    for (let i = 0; i < end; i += fields) {
      const u = p[i]! * gx + p[i + 1]! * gy
      sum += p[i + 4]! * Math.abs(u)
      signed += p[i + 4]! * u
    }
    const mean = sum / weight
    let along = 0
    let across = 0
    for (let i = 0; i < end; i += fields) {
      const u = p[i]! * gx + p[i + 1]! * gy
      const v = p[i + 1]! * gx - p[i]! * gy
      const size = u * u + v * v
      const inline = size > 0 ? (u * u) / size : 1
      const a = p[i + 2]!
      const c = p[i + 3]!
      const off = Math.abs(u) - mean
      along += p[i + 4]! * (off * off + a * inline + c * (1 - inline))
      across += p[i + 4]! * (v * v + c * inline + a * (1 - inline))
    }
    const side = signed < 0 ? -mean : mean
    out.kx = side * gx
    out.ky = side * gy
    out.along = along / weight
    out.across = across / weight
  }

  #heaviestGroove(end: number): number {
    const p = this.#parts
    let best = p[6] ?? 0
    let alike = true
    for (let i = fields; i < end; i += fields) if (p[i + 6] !== best) alike = false
    if (alike) return best
    let most = -1
    for (let i = 0; i < end; i += fields) {
      if (i > 0 && p[i + 6] === best) continue
      let sum = 0
      for (let j = 0; j < end; j += fields) if (p[j + 6] === p[i + 6]) sum += p[j + 4]!
      if (sum > most) {
        most = sum
        best = p[i + 6]!
      }
    }
    return best
  }
}

function single(p: Float64Array, out: GratingMoment): GratingMoment {
  out.kx = p[0]!
  out.ky = p[1]!
  out.along = p[2]!
  out.across = p[3]!
  out.weight = p[4]!
  out.depth = p[5]!
  out.groove = p[6]!
  return out
}
