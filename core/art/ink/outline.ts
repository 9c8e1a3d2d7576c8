import { EdgeMaker, type Edges } from './edges.ts'
import { flatten } from './flatten.ts'
import { type FillRule, type Matrix, type Path, pathStep, type StrokeStyle } from './mark.ts'
import { at } from './matrix.ts'
import { strokePath, strokeReach } from './stroke.ts'

/** Left, top, right, bottom: pixels, not whole. */
export type Bounds = readonly [number, number, number, number]

/** How far straight pieces may leave a curve, pixels: two levels of 255 along an edge, at most. */
const tolerance = 0.01

/** An outline to fill, pixels, y down. Its edges are made when they are first asked for, and kept until dropped. */
export class Outline {
  #edges: Edges | null = null
  readonly #make: () => Edges

  constructor(
    readonly bounds: Bounds,
    readonly rule: FillRule,
    make: () => Edges,
  ) {
    this.#make = make
  }

  edges(): Edges {
    this.#edges ??= this.#make()
    return this.#edges
  }

  get isMade(): boolean {
    return this.#edges !== null
  }

  drop(): void {
    this.#edges = null
  }
}

/** The inside of a path; null where it has a coordinate that is no number. */
export function fillOutline(path: Path, rule: FillRule, matrix: Matrix): Outline | null {
  const bounds = boundsOf(path, matrix, 0, 0)
  if (bounds === null) return null
  return new Outline(bounds, rule, () => {
    const maker = new EdgeMaker()
    flatten(path, matrix, tolerance, maker)
    return maker.edges()
  })
}

/** A pen drawn along a path. `toPixels`: from the space of the path. */
export function strokeOutline(path: Path, style: StrokeStyle, toPixels: Matrix): Outline | null {
  const [reachX, reachY] = strokeReach(style, toPixels)
  const bounds = boundsOf(path, toPixels, reachX, reachY)
  if (bounds === null) return null
  return new Outline(bounds, 'nonzero', () => {
    const maker = new EdgeMaker()
    strokePath(path, style, toPixels, tolerance, maker)
    return maker.edges()
  })
}

function boundsOf(path: Path, matrix: Matrix, reachX: number, reachY: number): Bounds | null {
  const [a, b, c, d, e, f] = matrix
  const { points } = path
  let [left, top, right, bottom] = [Infinity, Infinity, -Infinity, -Infinity]
  let sum = 0
  for (let i = 0; i + 1 < points.length; i += 2) {
    const x = a * points[i]! + c * points[i + 1]! + e
    const y = b * points[i]! + d * points[i + 1]! + f
    sum += x + y
    if (x < left) left = x
    if (x > right) right = x
    if (y < top) top = y
    if (y > bottom) bottom = y
  }
  if (!Number.isFinite(sum) || points.length < 2) return null
  return [left - reachX, top - reachY, right + reachX, bottom + reachY]
}

/** The rectangle that a path is, its sides along the axes; null for any other path. */
export function rectangleOf(path: Path, matrix: Matrix): Bounds | null {
  const lines: number[] = []
  for (const step of path.steps)
    if (step === pathStep.curve) return null
    else if (step !== pathStep.close) lines.push(step)
  if (lines[0] !== pathStep.move || lines.lastIndexOf(pathStep.move) !== 0) return null
  const corners: [number, number][] = []
  const [a, b, c, d, e, f] = matrix
  for (let i = 0; i < lines.length; i++) {
    const x = path.points[2 * i]!
    const y = path.points[2 * i + 1]!
    corners.push([a * x + c * y + e, b * x + d * y + f])
  }
  if (corners.length === 5 && corners[4]![0] === corners[0]![0] && corners[4]![1] === corners[0]![1])
    corners.pop()
  if (corners.length !== 4) return null
  const [p, q, r, s] = [corners[0]!, corners[1]!, corners[2]!, corners[3]!]
  const flatFirst = near(p[1], q[1]) && near(q[0], r[0]) && near(r[1], s[1]) && near(s[0], p[0])
  const uprightFirst = near(p[0], q[0]) && near(q[1], r[1]) && near(r[0], s[0]) && near(s[1], p[1])
  if (!flatFirst && !uprightFirst) return null
  return [Math.min(p[0], r[0]), Math.min(p[1], r[1]), Math.max(p[0], r[0]), Math.max(p[1], r[1])]
}

/** Nearer than a thousandth of a level of 255. */
const near = (a: number, b: number): boolean => Math.abs(a - b) < 1e-6

/** Of a rectangle's corners through a matrix. */
export function boundsThrough([left, bottom, right, top]: Bounds, matrix: Matrix): Bounds {
  const corners = [left, right].flatMap(x => [bottom, top].map(y => at(matrix, x, y)))
  const xs = corners.map(corner => corner[0])
  const ys = corners.map(corner => corner[1])
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)]
}

export const meet = (a: Bounds, b: Bounds): Bounds => [
  Math.max(a[0], b[0]),
  Math.max(a[1], b[1]),
  Math.min(a[2], b[2]),
  Math.min(a[3], b[3]),
]

export const join = (a: Bounds, b: Bounds): Bounds => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
]

export const isEmpty = (box: Bounds): boolean => !(box[0] < box[2] && box[1] < box[3])

/** Meets nothing, and adds nothing to what it is joined with. */
export const noBounds: Bounds = [Infinity, Infinity, -Infinity, -Infinity]
/** All of the plane. */
export const allBounds: Bounds = [-Infinity, -Infinity, Infinity, Infinity]
