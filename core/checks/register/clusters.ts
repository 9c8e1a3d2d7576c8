import type { BoxMm } from '../finding.ts'
import { type Halo, type HaloRule, stripWidth } from './halo.ts'
import type { SharedEdges } from './shared-edges.ts'
import { budgetAt, type PairTolerance } from './tolerance.ts'

/** Edges near each other that can show something: one place to look at. */
export interface Cluster {
  readonly box: BoxMm
  /** Mm of edge in it. */
  readonly lengthMm: number
  /** Widest sliver of each kind when all tolerances add up, mm; 0 where none can show. */
  readonly worst: Readonly<Record<Halo, number>>
  /** Index of the piece of edge where the widest of them lies. */
  readonly at: number
  /** Least trap, choke or gap that would have hidden it there, mm. */
  readonly neededMm: number
  /** Many small places, which are not told apart. */
  readonly several: boolean
}

export interface Clusters {
  readonly all: readonly Cluster[]
  /** Number of the cluster of each piece of edge; -1 where nothing shows that is noticed. */
  readonly of: Int32Array
}

/** Pieces of edge are one place where squares of this side that they lie in touch, mm. */
const squareMm = 4

/**
 * Groups pieces of edge where a sliver wider than what is noticed can show; the longest place
 * first, and what is beyond `mostPlaces` as one.
 * @param visibleMm slivers narrower than this are not seen
 */
export function clustersOf(
  edges: SharedEdges,
  rule: HaloRule,
  tolerance: PairTolerance,
  [cx, cy]: readonly [xMm: number, yMm: number],
  visibleMm: number,
): Clusters {
  const worst = (i: number): { readonly foil: number; readonly white: number; readonly budget: number } => {
    const budget = budgetAt(tolerance, Math.hypot(edges.x[i]! - cx, edges.y[i]! - cy)).worstMm
    const gap = edges.gap[i]!
    const opposed = edges.opposed[i] === 1
    const most = (halo: Halo) =>
      Math.max(
        stripWidth(rule, halo, opposed, gap, gap + budget),
        stripWidth(rule, halo, opposed, gap, gap - budget),
      )
    return { foil: most('foil'), white: most('white'), budget }
  }
  const squares = new Map<string, number[]>()
  for (let i = 0; i < edges.count; i++) {
    const { foil, white } = worst(i)
    if (Math.max(foil, white) <= visibleMm) continue
    const key = `${Math.floor(edges.x[i]! / squareMm)} ${Math.floor(edges.y[i]! / squareMm)}`
    const pieces = squares.get(key)
    if (pieces) pieces.push(i)
    else squares.set(key, [i])
  }
  const lengthOf = (pieces: readonly number[]) => pieces.reduce((sum, i) => sum + edges.length[i]!, 0)
  const places = touching(squares)
    .filter(pieces => lengthOf(pieces) >= leastEdgeMm)
    .toSorted((a, b) => lengthOf(b) - lengthOf(a))
  const kept = places.slice(0, mostPlaces)
  if (places.length > mostPlaces) kept.push(places.slice(mostPlaces).flat())
  const of = new Int32Array(edges.count).fill(-1)
  const all = kept.map((pieces, number) => {
    let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity]
    let [foil, white, lengthMm, neededMm, at] = [0, 0, 0, 0, pieces[0]!]
    for (const i of pieces) {
      of[i] = number
      const one = worst(i)
      if (Math.max(one.foil, one.white) > Math.max(foil, white)) at = i
      foil = Math.max(foil, one.foil)
      white = Math.max(white, one.white)
      neededMm = Math.max(neededMm, one.budget)
      lengthMm += edges.length[i]!
      const half = edges.length[i]! / 2
      left = Math.min(left, edges.x[i]! - half)
      right = Math.max(right, edges.x[i]! + half)
      bottom = Math.min(bottom, edges.y[i]! - half)
      top = Math.max(top, edges.y[i]! + half)
    }
    const box = { leftMm: left, bottomMm: bottom, rightMm: right, topMm: top }
    return { box, lengthMm, worst: { foil, white }, at, neededMm, several: number === mostPlaces }
  })
  return { all, of }
}

/** Less edge than this is a crossing of two outlines, not a fit of them, mm. */
const leastEdgeMm = 2

/** Places of a pair that are told apart. */
export const mostPlaces = 40

/** What lies in squares that touch, by side or corner, together. */
function touching(squares: ReadonlyMap<string, readonly number[]>): readonly (readonly number[])[] {
  const left = new Set(squares.keys())
  const out: number[][] = []
  for (const start of squares.keys()) {
    if (!left.delete(start)) continue
    const pieces: number[] = []
    const open = [start]
    for (let key = open.pop(); key !== undefined; key = open.pop()) {
      for (const i of squares.get(key)!) pieces.push(i)
      const [column, row] = key.split(' ').map(Number)
      for (let dx = -1; dx <= 1; dx++)
        for (let dy = -1; dy <= 1; dy++) {
          const next = `${column! + dx} ${row! + dy}`
          if (left.delete(next)) open.push(next)
        }
    }
    out.push(pieces)
  }
  return out
}
