import { boxIndex } from '../../base/box-index.ts'
import type { LineKind, Point } from '../die.ts'
import type { Arrangement, KindLine } from './arrange.ts'
import type { DieFinding } from './drawing.ts'
import { type EdgeKind, edgesAt } from './edges.ts'
import { placeOf } from './faces.ts'
import { counted, mm } from './words.ts'

/**
 * How far a line may stop short and still be meant to reach, mm: rules are often kept about 1 mm clear of each other
 * where a crease meets a cut. Common practice, no source.
 */
export const reliefMm = 1

/** Short pieces that tie ends to the line or end that they stop before, and what is said about them. */
export function mend(
  plane: Arrangement,
  kinds: readonly EdgeKind[],
  relief = reliefMm,
): { readonly lines: readonly KindLine[]; readonly findings: readonly DieFinding[] } {
  const ends = freeEnds(plane, kinds)
  const lines: KindLine[] = []
  const findings: DieFinding[] = []
  const tie = (from: Point, to: Point, kind: LineKind) => {
    lines.push({ kind, points: [from, to] })
    findings.push(kind === 'cut' ? gapClosed(from, to) : creaseReached(from, to))
  }
  const dashes = dashPartners(plane, ends)
  for (const [i, j] of dashes.entries())
    if (i < j)
      lines.push({
        kind: 'crease',
        points: [placeOf(plane, ends[i]!.vertex), placeOf(plane, ends[j]!.vertex)],
      })
  const joined = dashes.filter(j => j >= 0).length / 2
  if (joined > 0)
    findings.push(dashesJoined(joined, placeOf(plane, ends[dashes.findIndex(j => j >= 0)]!.vertex)))
  const partner = nearestEnds(plane, ends, relief)
  const edges = edgeIndex(plane)
  for (const [i, end] of ends.entries()) {
    if (dashes[i]! >= 0) continue
    const at = placeOf(plane, end.vertex)
    const other = partner[i]!
    if (other >= 0) {
      const kind = end.kind === 'cut' ? ends[other]!.kind : end.kind
      if (i < other) tie(at, placeOf(plane, ends[other]!.vertex), kind)
      continue
    }
    const ahead = edges.ahead(end, relief)
    if (ahead !== null) tie(at, ahead, end.kind)
  }
  return { lines, findings }
}

/** An end that touches nothing. */
export interface FreeEnd {
  readonly vertex: number
  readonly edge: number
  readonly kind: LineKind
}

/** Ends of cuts and creases that touch nothing; a perforation may end anywhere. */
export function freeEnds(plane: Arrangement, kinds: readonly EdgeKind[]): readonly FreeEnd[] {
  return edgesAt(plane).flatMap((edges, vertex) => {
    const [edge, ...others] = edges
    if (edge === undefined || others.length > 0) return []
    const kind = kinds[edge]!
    return kind === 'perforation' ? [] : [{ vertex, edge, kind: kind === 'both' ? 'cut-crease' : kind }]
  })
}

/** For each end the number of the free end nearest to it, where that is the same the other way round; else -1. */
export function nearestEnds(plane: Arrangement, ends: readonly FreeEnd[], within: number): readonly number[] {
  const index = boxIndex(
    ends.flatMap(({ vertex }) => {
      const [x, y] = placeOf(plane, vertex)
      return [x, y, x, y]
    }),
  )
  const nearest = ends.map((end, i) => {
    const [x, y] = placeOf(plane, end.vertex)
    let best = -1
    let least = within
    for (const j of index.touching(x - within, y - within, x + within, y + within)) {
      if (j === i || ends[j]!.edge === end.edge) continue
      const [ox, oy] = placeOf(plane, ends[j]!.vertex)
      const distance = Math.hypot(ox - x, oy - y)
      if (distance > least) continue
      best = j
      least = distance
    }
    return best
  })
  return nearest.map((j, i) => (j >= 0 && nearest[j] === i ? j : -1))
}

/** Longest gap between the dashes of a crease, mm, and how far the next may lie off its direction. */
const dashGapMm = 5
const dashTurn = Math.cos((3 * Math.PI) / 180)

/** For each free end of a crease the end of the crease that goes on in its direction after a gap; else -1. */
function dashPartners(plane: Arrangement, ends: readonly FreeEnd[]): readonly number[] {
  const creases = ends.flatMap((end, i) => (end.kind === 'crease' ? [i] : []))
  const near = nearestEnds(
    plane,
    creases.map(i => ends[i]!),
    dashGapMm,
  )
  const partner = ends.map(() => -1)
  for (const [k, other] of near.entries()) {
    if (other < 0) continue
    const [i, j] = [creases[k]!, creases[other]!]
    if (goesOn(plane, ends[i]!, ends[j]!) && goesOn(plane, ends[j]!, ends[i]!)) partner[i] = j
  }
  return partner
}

function goesOn(plane: Arrangement, end: FreeEnd, next: FreeEnd): boolean {
  const { a, b } = plane.edges[end.edge]!
  const [px, py] = placeOf(plane, end.vertex)
  const [fx, fy] = placeOf(plane, a === end.vertex ? b : a)
  const [nx, ny] = placeOf(plane, next.vertex)
  const along = (px - fx) * (nx - px) + (py - fy) * (ny - py)
  return along > dashTurn * Math.hypot(px - fx, py - fy) * Math.hypot(nx - px, ny - py)
}

/** What lies ahead of free ends. */
export function edgeIndex(plane: Arrangement): {
  /** Where a line would next meet another if it went on, at most `reach` mm further. */
  ahead(end: FreeEnd, reach: number): Point | null
} {
  const { x, y, edges } = plane
  const index = boxIndex(
    edges.flatMap(({ a, b }) => [
      Math.min(x[a]!, x[b]!),
      Math.min(y[a]!, y[b]!),
      Math.max(x[a]!, x[b]!),
      Math.max(y[a]!, y[b]!),
    ]),
  )
  return {
    ahead: ({ vertex, edge }, reach) => {
      const { a, b } = edges[edge]!
      const [px, py] = placeOf(plane, vertex)
      const [fx, fy] = placeOf(plane, a === vertex ? b : a)
      const length = Math.hypot(px - fx, py - fy)
      const [ux, uy] = [(px - fx) / length, (py - fy) / length]
      const [ex, ey] = [px + ux * reach, py + uy * reach]
      let best = Number.POSITIVE_INFINITY
      for (const e of index.touching(
        Math.min(px, ex) - 0.1,
        Math.min(py, ey) - 0.1,
        Math.max(px, ex) + 0.1,
        Math.max(py, ey) + 0.1,
      )) {
        const other = edges[e]!
        if (e === edge || other.a === vertex || other.b === vertex) continue
        const [qx, qy] = placeOf(plane, other.a)
        const [dx, dy] = [x[other.b]! - qx, y[other.b]! - qy]
        const cross = ux * dy - uy * dx
        if (Math.abs(cross) < 1e-9) continue
        const s = ((qx - px) * dy - (qy - py) * dx) / cross
        const t = ((qx - px) * uy - (qy - py) * ux) / cross
        const slack = 0.1 / Math.hypot(dx, dy)
        if (s > 0 && s <= reach && t >= -slack && t <= 1 + slack) best = Math.min(best, s)
      }
      return Number.isFinite(best) ? [px + ux * best, py + uy * best] : null
    },
  }
}

const between = (p: Point, q: Point) => Math.hypot(q[0] - p[0], q[1] - p[1])

const gapClosed = (from: Point, to: Point): DieFinding => ({
  severity: 'warning',
  code: 'gap-closed',
  where: 'cut',
  at: from,
  message: `the cut is interrupted for ${mm(between(from, to))}; it is read as if it went on`,
  fix: 'Join the ends in the drawing.',
})

const dashesJoined = (count: number, at: Point): DieFinding => ({
  severity: 'note',
  code: 'crease-dashes',
  where: 'crease',
  at,
  message: `creases drawn as dashes are read as lines; ${counted(count, 'gap')} ${count === 1 ? 'is' : 'are'} closed`,
  fix: 'Nothing, if they are meant as one crease; better draw one line and style it as dashed.',
})

const creaseReached = (from: Point, to: Point): DieFinding => ({
  severity: 'note',
  code: 'crease-relief',
  where: 'crease',
  at: from,
  message: `a crease stops ${mm(between(from, to))} before the line it runs at; it is read as if it reached it`,
  fix: 'Nothing, if the crease is kept short on purpose.',
})
