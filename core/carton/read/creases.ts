import type { Point } from '../die.ts'
import type { Arrangement } from './arrange.ts'
import type { DieFinding } from './drawing.ts'
import { type EdgeKind, lengthOf } from './edges.ts'
import { placeOf } from './faces.ts'
import { type Board, isFold } from './panels.ts'
import { mm, place } from './words.ts'

/** What two panels turn about against each other. */
export interface Fold {
  /** Numbers of the panels. */
  readonly panels: readonly [number, number]
  /** Ends of the crease, mm. */
  readonly from: Point
  readonly to: Point
  /** Numbers of its edges. */
  readonly edges: readonly number[]
}

/** The creases between panels, one for each pair, and what is wrong with their shape. */
export function foldsOf(
  plane: Arrangement,
  kinds: readonly EdgeKind[],
  board: Board,
): { readonly folds: readonly Fold[]; readonly findings: readonly DieFinding[] } {
  const pairs = new Map<string, number[]>()
  for (const e of plane.edges.keys()) {
    if (!isFold(e, kinds, board)) continue
    const [p, q] = [board.panelOf[2 * e]!, board.panelOf[2 * e + 1]!]
    const key = p < q ? `${p} ${q}` : `${q} ${p}`
    const list = pairs.get(key)
    if (list === undefined) pairs.set(key, [e])
    else list.push(e)
  }
  const folds: Fold[] = []
  const findings: DieFinding[] = []
  for (const [key, all] of pairs) {
    const [p, q] = key.split(' ').map(Number)
    // Where a crease runs on under a slit, the slit cuts.
    const clean = all.filter(e => kinds[e] !== 'both')
    const edges = clean.length > 0 ? clean : all
    const [from, to] = farthest(plane, edges)
    folds.push({ panels: [p!, q!], from, to, edges })
    const bent = edges
      .flatMap(e => ends(plane, e))
      .reduce((most, at) => Math.max(most, aside(at, from, to)), 0)
    if (bent > bendTolerance) findings.push(notStraight(plane, edges, bent))
    if (clean.length < all.length) findings.push(laidOn(plane, all, clean.length === 0))
  }
  return { folds, findings }
}

/** A crease that strays more from a straight line does not turn about it, mm. */
const bendTolerance = 0.3

const ends = (plane: Arrangement, e: number): readonly [Point, Point] => [
  placeOf(plane, plane.edges[e]!.a),
  placeOf(plane, plane.edges[e]!.b),
]

/** The two ends that lie farthest apart, in the order left to right, else bottom to top. */
function farthest(plane: Arrangement, edges: readonly number[]): readonly [Point, Point] {
  const all = edges.flatMap(e => ends(plane, e))
  // Farthest from any point is an end; farthest from that is the other: exact on a straight line.
  const away = (from: Point) =>
    all.reduce((best, at) => (distance(at, from) > distance(best, from) ? at : best), all[0]!)
  const first = away(all[0]!)
  const second = away(first)
  const ordered = first[0] - second[0] || first[1] - second[1]
  return ordered <= 0 ? [first, second] : [second, first]
}

const distance = (p: Point, q: Point) => Math.hypot(p[0] - q[0], p[1] - q[1])

/** Distance from the line through two points. */
function aside([x, y]: Point, from: Point, to: Point): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  return Math.abs((x - from[0]) * dy - (y - from[1]) * dx) / Math.hypot(dx, dy)
}

const middle = (plane: Arrangement, edges: readonly number[]): Point => {
  const longest = edges.reduce((a, b) => (lengthOf(plane, b) > lengthOf(plane, a) ? b : a))
  const [p, q] = ends(plane, longest)
  return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]
}

const notStraight = (plane: Arrangement, edges: readonly number[], bent: number): DieFinding => ({
  severity: 'error',
  code: 'crease-not-straight',
  where: 'crease',
  at: middle(plane, edges),
  message: `flat panels cannot turn about this crease: it strays ${mm(bent)} from a straight line`,
  fix: 'Draw a straight crease, or cut the panel apart where the crease turns.',
})

const laidOn = (plane: Arrangement, edges: readonly number[], all: boolean): DieFinding => {
  const both = edges.filter(e => lengthOf(plane, e) > 0)
  const at = middle(plane, both)
  return {
    severity: 'warning',
    code: 'cut-on-crease',
    where: 'crease',
    at,
    message: all
      ? `a cut and a crease lie on each other at ${place(at)}; they are read as a cut-crease that folds`
      : `part of the crease at ${place(at)} lies under a cut, and is read as cut`,
    fix: 'Delete one of the two lines there.',
  }
}
