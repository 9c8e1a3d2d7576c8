import { boxIndex } from '../../base/box-index.ts'
import type { Point } from '../die.ts'
import type { Arrangement } from './arrange.ts'

/** The open space around all lines. */
export const outside = 0

/**
 * Faces of an arrangement. Each edge `e` has two sides: `2e` lies on the left of the way from `a` to `b`, `2e + 1` on
 * its right.
 */
export interface Faces {
  /** Face on each side; {@link outside} or 1, 2, … */
  readonly of: Int32Array
  readonly count: number
  /** Area of each face within its own outline, mm², holes counted in. */
  readonly area: readonly number[]
  /** The side that comes after a side, around its face with the face on the left. */
  readonly next: Int32Array
}

/** Vertex from which a side sets out. */
export const fromOf = ({ edges }: Arrangement, side: number) =>
  (side & 1) === 0 ? edges[side >> 1]!.a : edges[side >> 1]!.b

/** Twin of a side: the other side of the same edge. */
export const twin = (side: number) => side ^ 1

export function facesOf(plane: Arrangement): Faces {
  const { x, y, edges } = plane
  const next = nextSides(plane)
  const sides = 2 * edges.length
  const cycle = new Int32Array(sides).fill(-1)
  const firsts: number[] = []
  const areas: number[] = []
  for (let first = 0; first < sides; first++) {
    if (cycle[first] !== -1) continue
    let twice = 0
    const origin = fromOf(plane, first)
    for (let side = first; cycle[side] === -1; side = next[side]!) {
      cycle[side] = firsts.length
      const [a, b] = [fromOf(plane, side), fromOf(plane, twin(side))]
      twice += (x[a]! - x[origin]!) * (y[b]! - y[origin]!) - (x[b]! - x[origin]!) * (y[a]! - y[origin]!)
    }
    firsts.push(first)
    areas.push(twice / 2)
  }
  // A cycle with its face on the left runs counter-clockwise around it; one that runs around a group of lines does not.
  const face = new Int32Array(firsts.length).fill(-1)
  const area = [0]
  for (const [i, one] of areas.entries())
    if (one > 1e-9) {
      face[i] = area.length
      area.push(one)
    }
  placeGroups(plane, cycle, firsts, face)
  return { of: cycle.map(one => face[one]!), count: area.length, area, next }
}

/** For each side the one after it: at the vertex it reaches, the first edge clockwise from the way back. */
function nextSides({ x, y, edges }: Arrangement): Int32Array {
  const leaving: number[][] = Array.from(x, () => [])
  for (const [e, { a, b }] of edges.entries()) {
    leaving[a]!.push(2 * e)
    leaving[b]!.push(2 * e + 1)
  }
  const next = new Int32Array(2 * edges.length)
  for (const list of leaving) {
    const angle = new Map(
      list.map(side => {
        const { a, b } = edges[side >> 1]!
        const [from, to] = (side & 1) === 0 ? [a, b] : [b, a]
        return [side, Math.atan2(y[to]! - y[from]!, x[to]! - x[from]!)] as const
      }),
    )
    list.sort((p, q) => angle.get(p)! - angle.get(q)!)
    for (const [i, side] of list.entries()) next[twin(side)] = list[(i + list.length - 1) % list.length]!
  }
  return next
}

/** Says for the outer cycle of each group of connected lines in which face of another group it lies. */
function placeGroups(
  plane: Arrangement,
  cycle: Int32Array,
  firsts: readonly number[],
  face: Int32Array,
): void {
  const { x, y, edges } = plane
  const group = connected(plane)
  const boxes = new Float64Array(4 * edges.length)
  for (const [e, { a, b }] of edges.entries())
    boxes.set(
      [Math.min(x[a]!, x[b]!), Math.min(y[a]!, y[b]!), Math.max(x[a]!, x[b]!), Math.max(y[a]!, y[b]!)],
      4 * e,
    )
  const index = boxIndex(boxes)
  const leftmost = new Map<number, number>()
  let edgeOfAll = 0
  for (const { a, b } of edges)
    for (const vertex of [a, b]) {
      const known = leftmost.get(group[vertex]!)
      if (known === undefined || x[vertex]! < x[known]!) leftmost.set(group[vertex]!, vertex)
      edgeOfAll = Math.min(edgeOfAll, x[vertex]!)
    }
  /** The side that a ray to the left from a group's leftmost vertex meets first; -1 when none. */
  const seen = new Map<number, number>()
  const behind = (key: number): number => {
    const known = seen.get(key)
    if (known !== undefined) return known
    const vertex = leftmost.get(key)!
    const [px, py] = [x[vertex]!, y[vertex]!]
    let best = -1
    let nearest = Number.NEGATIVE_INFINITY
    for (const e of index.touching(edgeOfAll, py, px, py)) {
      const { a, b } = edges[e]!
      // Half-open, so that a ray through a vertex meets one of the edges there.
      if (group[a] === key || y[a]! > py === y[b]! > py) continue
      const meets = x[a]! + ((py - y[a]!) / (y[b]! - y[a]!)) * (x[b]! - x[a]!)
      if (meets >= px || meets <= nearest) continue
      nearest = meets
      // Of its two sides the one that looks to the right: the left of a way down.
      best = y[a]! > y[b]! ? 2 * e : 2 * e + 1
    }
    seen.set(key, best)
    return best
  }
  const faceBehind = (c: number): number => {
    if (face[c] !== -1) return face[c]!
    const side = behind(group[fromOf(plane, firsts[c]!)]!)
    face[c] = side < 0 ? outside : -2
    return face[c]!
  }
  for (let c = 0; c < firsts.length; c++) {
    const way: number[] = []
    let at = c
    // Each group's leftmost vertex lies left of the one before, so this comes to an end.
    while (faceBehind(at) === -2) {
      way.push(at)
      at = cycle[behind(group[fromOf(plane, firsts[at]!)]!)]!
    }
    for (const one of way) face[one] = face[at]!
  }
}

/** A number for each vertex: the same for all that lines connect. */
export function connected({ x, edges }: Arrangement): Int32Array {
  const parent = Int32Array.from(x.keys())
  const root = (i: number): number => {
    let at = i
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!
      at = parent[at]!
    }
    return at
  }
  for (const { a, b } of edges) parent[root(a)] = root(b)
  return parent.map((_, i) => root(i))
}

export const placeOf = ({ x, y }: Arrangement, vertex: number): Point => [x[vertex]!, y[vertex]!]
