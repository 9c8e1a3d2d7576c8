import { boxIndex } from '../../base/box-index.ts'
import { BadInput } from '../../base/finding.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { LineKind, Point } from '../die.ts'
import { thinned } from './thin.ts'
import { Vertices } from './vertices.ts'

/** Lines nearer than this are one, mm. */
export const snapTolerance = 0.1

export interface KindLine {
  readonly kind: LineKind
  readonly points: readonly Point[]
}

/** A straight piece between two vertices that nothing crosses. */
export interface Edge {
  readonly a: number
  readonly b: number
  /** Lines that run here, as numbers of the list that was arranged; more than once where a line runs back on itself. */
  readonly lines: readonly number[]
}

/** Lines cut at every crossing and touch, laid on each other where they run together. */
export interface Arrangement {
  readonly x: readonly number[]
  readonly y: readonly number[]
  readonly edges: readonly Edge[]
}

interface Piece {
  readonly a: number
  readonly b: number
  readonly line: number
  /** Made by the last cut, so that nobody has looked yet at what it meets. */
  readonly fresh: boolean
}

/** More pieces than this are no die but a tangle; a carton has some thousand. */
const mostPieces = 400_000

/**
 * Cuts lines at their crossings. Ends within the tolerance of each other, or of another line, meet.
 * @param name  file name, for messages
 * @throws BadInput when the lines cross beyond measure
 */
export function arrange(
  lines: readonly KindLine[],
  name: string,
  tolerance = snapTolerance,
  task?: Task,
): Arrangement {
  const vertices = new Vertices(tolerance)
  // Closer than the tolerance points would be one vertex; and ends come first, so that ends meet ends.
  const thin = lines.map(({ points }) => thinned(points, tolerance / 5))
  for (const points of thin) for (const [x, y] of [points[0]!, points.at(-1)!]) vertices.add(x, y)
  let pieces: Piece[] = []
  for (const [line, points] of thin.entries()) {
    let before = -1
    for (const [x, y] of points) {
      const next = vertices.add(x, y)
      if (before >= 0 && next !== before) pieces.push({ a: before, b: next, line, fresh: true })
      before = next
    }
  }
  // A piece bends by up to the tolerance where it is cut at a vertex beside it, and may then meet others.
  let known = 0
  for (let pass = 0; pass < 6; pass++) {
    checkCancelled(task)
    const count = vertices.x.length
    const cut = cutPieces(pieces, vertices, known, tolerance, name)
    if (cut === null) break
    pieces = cut
    known = count
  }
  return { x: vertices.x, y: vertices.y, edges: laidTogether(pieces) }
}

/**
 * All pieces cut where they meet; null when none does.
 * @param known  how many of the vertices have been compared with all pieces but the fresh ones
 */
function cutPieces(
  pieces: readonly Piece[],
  vertices: Vertices,
  known: number,
  tolerance: number,
  name: string,
): Piece[] | null {
  const { x, y } = vertices
  const everything = [...pieces.keys()]
  const all = piecesByPlace(pieces, everything, vertices)
  const fresh = piecesByPlace(
    pieces,
    everything.filter(i => pieces[i]!.fresh),
    vertices,
  )
  const cuts: (Cut[] | undefined)[] = []
  let count = pieces.length
  const cut = (piece: number, t: number, vertex: number) => {
    const { a, b } = pieces[piece]!
    if (vertex === a || vertex === b) return
    const list = cuts[piece]
    if (list === undefined) cuts[piece] = [{ t, vertex }]
    else list.push({ t, vertex })
    if (++count > mostPieces)
      throw new BadInput(
        'too-many-crossings',
        name,
        'the drawing',
        'its lines cross each other too often to be a die',
        'Save only the cut and crease lines, without hatching',
      )
  }
  const used = new Set(pieces.flatMap(({ a, b }) => [a, b]))
  for (const vertex of used) {
    const [px, py] = [x[vertex]!, y[vertex]!]
    const { index, owner } = vertex < known ? fresh : all
    for (const box of index.touching(px - tolerance, py - tolerance, px + tolerance, py + tolerance)) {
      const { a, b } = pieces[owner[box]!]!
      if (a === vertex || b === vertex) continue
      const t = along(x[a]!, y[a]!, x[b]!, y[b]!, px, py)
      if (!(t > 0 && t < 1)) continue
      const [fx, fy] = [x[a]! + t * (x[b]! - x[a]!), y[a]! + t * (y[b]! - y[a]!)]
      if (Math.hypot(px - fx, py - fy) < tolerance) cut(owner[box]!, t, vertex)
    }
  }
  for (const [own, i] of fresh.owner.entries())
    for (const box of all.index.touching(
      fresh.boxes[4 * own]!,
      fresh.boxes[4 * own + 1]!,
      fresh.boxes[4 * own + 2]!,
      fresh.boxes[4 * own + 3]!,
    )) {
      const j = all.owner[box]!
      if (j === i || (j < i && pieces[j]!.fresh)) continue
      const [p, q] = [pieces[i]!, pieces[j]!]
      if (p.a === q.a || p.a === q.b || p.b === q.a || p.b === q.b) continue
      const crossing = crossingOf(p, q, x, y)
      if (crossing === null) continue
      const [t, u] = crossing
      const vertex = vertices.add(x[p.a]! + t * (x[p.b]! - x[p.a]!), y[p.a]! + t * (y[p.b]! - y[p.a]!))
      cut(i, t, vertex)
      cut(j, u, vertex)
    }
  if (count === pieces.length) return null
  return pieces.flatMap((piece, i) => {
    const list = cuts[i]
    if (list === undefined) return [piece.fresh ? { ...piece, fresh: false } : piece]
    const parts: Piece[] = []
    let a = piece.a
    for (const { vertex } of [...list.sort((p, q) => p.t - q.t), { vertex: piece.b }]) {
      if (vertex !== a) parts.push({ a, b: vertex, line: piece.line, fresh: true })
      a = vertex
    }
    return parts
  })
}

interface Cut {
  readonly t: number
  readonly vertex: number
}

/** Long slanting pieces fill their box badly, so they get several; `owner` says whose a box is. */
function piecesByPlace(pieces: readonly Piece[], chosen: readonly number[], { x, y }: Vertices) {
  const boxes: number[] = []
  const owner: number[] = []
  for (const i of chosen) {
    const { a, b } = pieces[i]!
    const [dx, dy] = [x[b]! - x[a]!, y[b]! - y[a]!]
    const parts = Math.min(64, Math.max(1, Math.ceil(Math.min(Math.abs(dx), Math.abs(dy)) / 10)))
    for (let k = 0; k < parts; k++) {
      const [x0, x1] = [x[a]! + (dx * k) / parts, x[a]! + (dx * (k + 1)) / parts]
      const [y0, y1] = [y[a]! + (dy * k) / parts, y[a]! + (dy * (k + 1)) / parts]
      boxes.push(Math.min(x0, x1), Math.min(y0, y1), Math.max(x0, x1), Math.max(y0, y1))
      owner.push(i)
    }
  }
  return { index: boxIndex(boxes), owner, boxes }
}

/** Where on a line from a to b, as a share of it, a place stands beside it. */
export function along(ax: number, ay: number, bx: number, by: number, px: number, py: number): number {
  const [dx, dy] = [bx - ax, by - ay]
  return ((px - ax) * dx + (py - ay) * dy) / (dx * dx + dy * dy)
}

/** Shares of both pieces at which they cross inside; null when they do not. */
function crossingOf(
  p: Piece,
  q: Piece,
  x: readonly number[],
  y: readonly number[],
): readonly [number, number] | null {
  const [px, py] = [x[p.b]! - x[p.a]!, y[p.b]! - y[p.a]!]
  const [qx, qy] = [x[q.b]! - x[q.a]!, y[q.b]! - y[q.a]!]
  const cross = px * qy - py * qx
  if (cross === 0) return null
  const [dx, dy] = [x[q.a]! - x[p.a]!, y[q.a]! - y[p.a]!]
  const t = (dx * qy - dy * qx) / cross
  const u = (dx * py - dy * px) / cross
  return t > 0 && t < 1 && u > 0 && u < 1 ? [t, u] : null
}

function laidTogether(pieces: readonly Piece[]): readonly Edge[] {
  const known = new Map<number, { a: number; b: number; lines: number[] }>()
  for (const { a, b, line } of pieces) {
    const [low, high] = a < b ? [a, b] : [b, a]
    const key = low * 2 ** 26 + high
    const edge = known.get(key)
    if (edge === undefined) known.set(key, { a: low, b: high, lines: [line] })
    else edge.lines.push(line)
  }
  return [...known.values()]
}
