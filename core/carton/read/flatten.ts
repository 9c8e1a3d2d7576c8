import { at } from '../../art/ink/matrix.ts'
import type { Matrix } from '../../art/path.ts'
import type { PathStep } from '../../base/svg-path.ts'
import type { Point } from '../die.ts'

/** How far a flattened curve may stray from the curve, mm. */
export const curveTolerance = 0.02

/** Beyond this a number is a mistake of the file and no place on a sheet, mm. */
const farthest = 1e6

/**
 * Lines of a path, mm: one for each move. Parts with numbers that are no place are left out.
 * @param matrix  from the path's units to mm
 */
export function linesOf(steps: readonly PathStep[], matrix: Matrix): readonly (readonly Point[])[] {
  const lines: Point[][] = []
  let line: Point[] = []
  const begin = (point: Point) => {
    line = [point]
    lines.push(line)
  }
  for (const step of steps)
    switch (step.kind) {
      case 'move':
        begin(at(matrix, ...step.to))
        break
      case 'line':
        line.push(at(matrix, ...step.to))
        break
      case 'curve':
        addCurve(line, at(matrix, ...step.out), at(matrix, ...step.into), at(matrix, ...step.to))
        break
      case 'close': {
        const first = line[0]
        if (first === undefined) break
        if (!same(line.at(-1)!, first)) line.push(first)
        // What follows without a move goes on from here.
        begin(first)
        break
      }
    }
  return lines.filter(points => points.length > 1 && points.every(isPlace))
}

const isPlace = ([x, y]: Point) => Math.abs(x) <= farthest && Math.abs(y) <= farthest
const same = (a: Point, b: Point) => a[0] === b[0] && a[1] === b[1]

/** Points of a cubic after its first, to within {@link curveTolerance}. */
export function addCurve(line: Point[], out: Point, into: Point, to: Point): void {
  const from = line.at(-1)!
  if (isStraight(from, out, into, to)) {
    line.push(to)
    return
  }
  // A cubic cut into n equal steps strays from its chords by at most 3/4 of its largest second difference over n².
  const bend = Math.max(
    Math.hypot(from[0] - 2 * out[0] + into[0], from[1] - 2 * out[1] + into[1]),
    Math.hypot(out[0] - 2 * into[0] + to[0], out[1] - 2 * into[1] + to[1]),
  )
  const wanted = Math.ceil(Math.sqrt((0.75 * bend) / curveTolerance))
  const n = Number.isFinite(wanted) ? Math.min(512, Math.max(1, wanted)) : 1
  for (let i = 1; i < n; i++) {
    const t = i / n
    const u = 1 - t
    const [a, b, c, d] = [u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t]
    line.push([
      a * from[0] + b * out[0] + c * into[0] + d * to[0],
      a * from[1] + b * out[1] + c * into[1] + d * to[1],
    ])
  }
  line.push(to)
}

/** A curve whose handles lie on the way between its ends. */
function isStraight(from: Point, out: Point, into: Point, to: Point): boolean {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const length = Math.hypot(dx, dy)
  return [out, into].every(([x, y]) => {
    const along = (x - from[0]) * dx + (y - from[1]) * dy
    const aside = (x - from[0]) * dy - (y - from[1]) * dx
    return along >= 0 && along <= length * length && Math.abs(aside) <= (curveTolerance / 10) * length
  })
}
