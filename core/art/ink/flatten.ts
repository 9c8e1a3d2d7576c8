import { type Matrix, type Path, pathStep } from './mark.ts'

/** What takes the straight pieces of a path. */
export interface LineSink {
  move(x: number, y: number): void
  /** `inner`: the piece ends inside a curve, not at a corner that was drawn. */
  line(x: number, y: number, inner: boolean): void
  close(): void
}

/** A line drawn by straight pieces, without repeated points. */
export interface Polyline {
  /** x, y of each point; the first is not repeated at the end of a closed line. */
  readonly points: readonly number[]
  /** Of each point: it lies inside a curve, so its join is always round. */
  readonly inner: readonly boolean[]
  readonly closed: boolean
}

/** Pieces of one curve, at most. */
const mostPieces = 4096

/**
 * Gives a path to `sink` as straight pieces, each point taken through `matrix` first.
 * @param tolerance  how far a piece may leave its curve, units after `matrix`, > 0
 */
export function flatten(path: Path, matrix: Matrix, tolerance: number, sink: LineSink): void {
  const [a, b, c, d, e, f] = matrix
  const { steps, points } = path
  let x = 0
  let y = 0
  let startX = 0
  let startY = 0
  for (let i = 0, at = 0; i < steps.length; i++) {
    const step = steps[i]
    if (step === pathStep.close) {
      sink.close()
      x = startX
      y = startY
      continue
    }
    const px = points[at]!
    const py = points[at + 1]!
    const x1 = a * px + c * py + e
    const y1 = b * px + d * py + f
    at += 2
    if (step === pathStep.curve) {
      const qx = points[at]!
      const qy = points[at + 1]!
      const rx = points[at + 2]!
      const ry = points[at + 3]!
      at += 4
      const x3 = a * rx + c * ry + e
      const y3 = b * rx + d * ry + f
      flattenCurve([x, y, x1, y1, a * qx + c * qy + e, b * qx + d * qy + f, x3, y3], tolerance, (u, v) =>
        sink.line(u, v, true),
      )
      sink.line(x3, y3, false)
      x = x3
      y = y3
      continue
    }
    if (step === pathStep.move) {
      sink.move(x1, y1)
      startX = x1
      startY = y1
    } else sink.line(x1, y1, false)
    x = x1
    y = y1
  }
}

/** Start, two controls, end: x, y of each. */
export type Cubic = readonly [number, number, number, number, number, number, number, number]

/** Gives the inner points of a cubic cut into equal steps; its ends belong to the caller. */
export function flattenCurve(
  [x0, y0, x1, y1, x2, y2, x3, y3]: Cubic,
  tolerance: number,
  each: (x: number, y: number) => void,
): void {
  // A cubic cut into n equal steps strays from its chords by at most 3/4 of its largest second difference over n².
  const bend = Math.max(
    Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2),
    Math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3),
  )
  const n = Math.min(mostPieces, Math.ceil(Math.sqrt((0.75 * bend) / tolerance)))
  for (let i = 1; i < n; i++) {
    const t = i / n
    const u = 1 - t
    const k0 = u * u * u
    const k1 = 3 * u * u * t
    const k2 = 3 * u * t * t
    const k3 = t * t * t
    each(k0 * x0 + k1 * x1 + k2 * x2 + k3 * x3, k0 * y0 + k1 * y1 + k2 * y2 + k3 * y3)
  }
}

/** How much a matrix enlarges at most: the larger of its singular values. */
export function largestScale([a, b, c, d]: Matrix): number {
  const sum = a * a + b * b + c * c + d * d
  const det = a * d - b * c
  return Math.sqrt((sum + Math.sqrt(Math.max(0, sum * sum - 4 * det * det))) / 2)
}
