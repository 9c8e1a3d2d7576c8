import type { ColorSpace } from './reading.ts'
import type { PointSource } from './shading-field.ts'
import { spread } from './shading-places.ts'
import type { Ramp } from './shading-ramp.ts'

/** Triangles of a mesh, the later over the earlier; colours run straight between their corners. */
export interface Mesh {
  /** Page mm: x, y of each corner. */
  readonly points: Float64Array
  /** Colour values of each corner, `components` each. */
  readonly colors: Float32Array
  readonly components: number
  /** Numbers of three corners each. */
  readonly triangles: Uint32Array
}

/** @param ramp where colours are one number 0..1 along it; null: they are of `space` */
export function trianglesSource(mesh: Mesh, space: ColorSpace, ramp: Ramp | null): PointSource {
  const { points, colors, components, triangles } = mesh
  const index = makeIndex(mesh)
  return {
    inks: space.inks,
    line: (x, y, step, length, out, painted) => {
      painted.fill(0, 0, length)
      const values = new Float32Array(length * components)
      for (const t of index(y)) fill(t, x, y, step, length, values, painted)
      if (ramp === null) spread(space, values, length, out)
      else for (let i = 0; i < length; i++) if (painted[i] === 1) ramp.write(values[i]!, out, i)
    },
  }

  /** The stretch of a row that lies in a triangle. */
  function fill(
    t: number,
    x: number,
    y: number,
    step: number,
    length: number,
    values: Float32Array,
    painted: Uint8Array,
  ): void {
    const [i, j, k] = [triangles[3 * t]!, triangles[3 * t + 1]!, triangles[3 * t + 2]!]
    const [ax, ay, bx, by] = [points[2 * i]!, points[2 * i + 1]!, points[2 * j]!, points[2 * j + 1]!]
    const [cx, cy] = [points[2 * k]!, points[2 * k + 1]!]
    const area = (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)
    if (area === 0) return
    // Shares of the corners are straight along the row: share = base + x slope, and all three are at least 0 inside.
    const slopeB = (cy - ay) / area
    const slopeC = -(by - ay) / area
    const baseB = (-ax * (cy - ay) - (cx - ax) * (y - ay)) / area
    const baseC = ((bx - ax) * (y - ay) + ax * (by - ay)) / area
    let low = Number.NEGATIVE_INFINITY
    let high = Number.POSITIVE_INFINITY
    for (const [base, slope] of [
      [baseB, slopeB],
      [baseC, slopeC],
      [1 - baseB - baseC, -slopeB - slopeC],
    ] as const) {
      if (slope > 0) low = Math.max(low, -base / slope)
      else if (slope < 0) high = Math.min(high, -base / slope)
      else if (base < -1e-12) return
    }
    // A hair more, so that no point falls between two neighbours.
    const hair = 1e-9 * (1 + Math.abs(x))
    const first = Math.max(0, Math.ceil((low - hair - x) / step))
    const last = Math.min(length - 1, Math.floor((high + hair - x) / step))
    for (let p = first; p <= last; p++) {
      const at = x + p * step
      const b = baseB + at * slopeB
      const c = baseC + at * slopeC
      const a = 1 - b - c
      for (let n = 0; n < components; n++)
        values[p * components + n] =
          a * colors[i * components + n]! + b * colors[j * components + n]! + c * colors[k * components + n]!
      painted[p] = 1
    }
  }
}

/** Triangles by the bands of rows that they lie in. */
function makeIndex({ points, triangles }: Mesh): (y: number) => Iterable<number> {
  const count = triangles.length / 3
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
  for (let i = 1; i < points.length; i += 2) {
    low = Math.min(low, points[i]!)
    high = Math.max(high, points[i]!)
  }
  if (count === 0 || !(high > low)) return () => []
  const bands = Math.min(1024, Math.max(1, Math.ceil(Math.sqrt(count))))
  const bandOf = (y: number) =>
    Math.min(bands - 1, Math.max(0, Math.floor(((y - low) / (high - low)) * bands)))
  const stretch = (t: number) => {
    const ys = [0, 1, 2].map(i => points[2 * triangles[3 * t + i]! + 1]!)
    return [bandOf(Math.min(...ys)), bandOf(Math.max(...ys))] as const
  }
  const starts = new Uint32Array(bands + 1)
  for (let t = 0; t < count; t++) {
    const [first, last] = stretch(t)
    for (let band = first; band <= last; band++) starts[band + 1]!++
  }
  for (let band = 0; band < bands; band++) starts[band + 1]! += starts[band]!
  const members = new Uint32Array(starts[bands]!)
  const next = starts.slice()
  for (let t = 0; t < count; t++) {
    const [first, last] = stretch(t)
    for (let band = first; band <= last; band++) members[next[band]!++] = t
  }
  return y => {
    if (y < low || y > high) return []
    const band = bandOf(y)
    return members.subarray(starts[band], starts[band + 1])
  }
}
