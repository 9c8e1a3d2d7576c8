import type { LineKind } from '../die.ts'
import type { Arrangement, KindLine } from './arrange.ts'

/**
 * What an edge of the arrangement does: `both` where a cut and a crease are drawn on each other. From which side it is
 * creased, and whether it is perforated to be torn, makes no difference to its panels.
 */
export type EdgeKind = Exclude<LineKind, 'reverse-crease' | 'tear'> | 'both'

export function edgeKinds({ edges }: Arrangement, lines: readonly KindLine[]): readonly EdgeKind[] {
  return edges.map(edge => {
    const kinds = new Set(edge.lines.map(line => plainKind(lines[line]!.kind)))
    if (kinds.has('cut-crease')) return 'cut-crease'
    if (kinds.has('cut') && (kinds.has('crease') || kinds.has('perforation')))
      return kinds.has('crease') ? 'both' : 'perforation'
    if (kinds.has('crease')) return 'crease'
    return kinds.has('cut') ? 'cut' : 'perforation'
  })
}

function plainKind(kind: LineKind): Exclude<EdgeKind, 'both'> {
  if (kind === 'reverse-crease') return 'crease'
  return kind === 'tear' ? 'perforation' : kind
}

/** Whether board on both sides of an edge may turn about it. */
export const folds = (kind: EdgeKind): boolean => kind !== 'cut' && kind !== 'perforation'

export function lengthOf({ x, y, edges }: Arrangement, e: number): number {
  const { a, b } = edges[e]!
  return Math.hypot(x[b]! - x[a]!, y[b]! - y[a]!)
}

/** Edges at each vertex. */
export function edgesAt({ x, edges }: Arrangement): readonly (readonly number[])[] {
  const at: number[][] = Array.from(x, () => [])
  for (const [e, { a, b }] of edges.entries()) {
    at[a]!.push(e)
    at[b]!.push(e)
  }
  return at
}

/** The chosen edges in connected groups. */
export function runsOf({ edges }: Arrangement, chosen: readonly number[]): readonly (readonly number[])[] {
  const parent = new Map<number, number>()
  const root = (vertex: number): number => {
    let at = vertex
    for (let up = parent.get(at); up !== undefined && up !== at; up = parent.get(at)) {
      parent.set(at, parent.get(up) ?? up)
      at = up
    }
    return at
  }
  for (const e of chosen) {
    const [p, q] = [root(edges[e]!.a), root(edges[e]!.b)]
    if (p !== q) parent.set(p, q)
  }
  const runs = new Map<number, number[]>()
  for (const e of chosen) {
    const key = root(edges[e]!.a)
    const run = runs.get(key)
    if (run === undefined) runs.set(key, [e])
    else run.push(e)
  }
  return [...runs.values()]
}
