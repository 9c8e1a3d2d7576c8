import type { PathStep } from '../../base/svg-path.ts'
import { PathWriter } from '../ink/path.ts'
import { type Matrix, type Path, pathStep } from '../path.ts'

/** Steps of a drawing as a path, in the drawing's own units. */
export function pathOf(steps: readonly PathStep[]): Path {
  const writer = new PathWriter()
  for (const step of steps)
    switch (step.kind) {
      case 'move':
        writer.move(...step.to)
        break
      case 'line':
        writer.line(...step.to)
        break
      case 'curve':
        writer.curve(...step.out, ...step.into, ...step.to)
        break
      case 'close':
        writer.close()
        break
    }
  return writer.path()
}

/** Left, lowest, right, highest. */
export type Bounds = readonly [number, number, number, number]

/** The box around a path, around its curves and not their controls; null for one without a point. */
export function boundsOf({ steps, points }: Path): Bounds | null {
  let [left, low, right, high] = [Infinity, Infinity, -Infinity, -Infinity]
  const take = (x: number, y: number) => {
    left = Math.min(left, x)
    right = Math.max(right, x)
    low = Math.min(low, y)
    high = Math.max(high, y)
  }
  let at = 0
  for (const step of steps) {
    if (step === pathStep.close) continue
    if (step === pathStep.curve) {
      for (const t of turns(points, at)) take(onCurve(points, at, t), onCurve(points, at + 1, t))
      at += 4
    }
    take(points[at]!, points[at + 1]!)
    at += 2
  }
  return left <= right ? [left, low, right, high] : null
}

/** A coordinate of the curve whose controls begin at `at`, behind its start. */
function onCurve(points: Float64Array, at: number, t: number): number {
  const u = 1 - t
  return (
    u * u * u * points[at - 2]! +
    3 * u * u * t * points[at]! +
    3 * u * t * t * points[at + 2]! +
    t * t * t * points[at + 4]!
  )
}

/** Where a curve turns back across or down, 0..1. */
function turns(points: Float64Array, start: number): readonly number[] {
  return [start, start + 1].flatMap(at => {
    const [p, q, r, s] = [points[at - 2]!, points[at]!, points[at + 2]!, points[at + 4]!]
    // The slope is a t² + b t + c.
    const [a, b, c] = [s - 3 * r + 3 * q - p, 2 * (r - 2 * q + p), q - p]
    const root = Math.sqrt(b * b - 4 * a * c)
    const found = Math.abs(a) < 1e-12 ? [-c / b] : [(-b + root) / (2 * a), (-b - root) / (2 * a)]
    return found.filter(t => t > 0 && t < 1)
  })
}

/** A box's own units, 0..1 across and down it, as its surroundings'. */
export const boxMatrix = ([left, low, right, high]: Bounds): Matrix => [
  right - left,
  0,
  0,
  high - low,
  left,
  low,
]

export function rectangle(x: number, y: number, width: number, height: number): Path {
  return pathOf([
    { kind: 'move', to: [x, y] },
    { kind: 'line', to: [x + width, y] },
    { kind: 'line', to: [x + width, y + height] },
    { kind: 'line', to: [x, y + height] },
    { kind: 'close' },
  ])
}

/** Farther than any sheet, mm: a number beyond it is a mistake. */
const farthest = 1e6

export const isOnSheet = ({ points }: Path): boolean => points.every(value => Math.abs(value) <= farthest)
