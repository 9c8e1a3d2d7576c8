import type { Point } from '../die.ts'
import type { Arrangement } from './arrange.ts'
import type { DieFinding } from './drawing.ts'
import { type EdgeKind, edgesAt, folds, lengthOf, runsOf } from './edges.ts'
import { placeOf } from './faces.ts'
import { edgeIndex, type FreeEnd, freeEnds, nearestEnds } from './mend.ts'
import { type Board, isFold } from './panels.ts'
import { counted, mm, place } from './words.ts'

/** Tails of a line beyond the one it should end at that are passed over, mm. */
const tailMm = 1

/** How far ahead of a crease that stops short a line is looked for, mm, and how near two ends make a gap. */
const lookMm = 100
const gapMm = 5

interface Sight {
  readonly plane: Arrangement
  readonly kinds: readonly EdgeKind[]
  readonly board: Board
  readonly ends: readonly FreeEnd[]
}

/** What is wrong with lines that bound or fold nothing, with places. */
export function judge(plane: Arrangement, kinds: readonly EdgeKind[], board: Board): readonly DieFinding[] {
  const sight: Sight = { plane, kinds, board, ends: freeEnds(plane, kinds) }
  const open = openPanels(sight)
  return [...shortCreases(sight), ...open, ...gaps(sight, open), ...loose(sight, open.length > 0)]
}

/** Creases with the same panel on both sides: they stop before they part it. */
function shortCreases({ plane, kinds, board, ends }: Sight): readonly DieFinding[] {
  const chosen = [...plane.edges.keys()].filter(e => {
    const [left, right] = [board.panelOf[2 * e]!, board.panelOf[2 * e + 1]!]
    return folds(kinds[e]!) && left >= 0 && left === right
  })
  const index = edgeIndex(plane)
  const freeAt = new Map<number, FreeEnd[]>()
  for (const end of ends) freeAt.set(end.edge, [...(freeAt.get(end.edge) ?? []), end])
  return runsOf(plane, chosen).flatMap((run): readonly DieFinding[] => {
    const length = run.reduce((sum, e) => sum + lengthOf(plane, e), 0)
    const free = run.flatMap(e => freeAt.get(e) ?? [])
    if (free.length > 0 && length <= tailMm) return []
    const end = free[0]
    if (end === undefined)
      return [
        {
          severity: 'error',
          code: 'crease-parts-nothing',
          where: 'crease',
          at: middle(plane, run),
          message: 'the panel is the same on both sides of this crease, so it cannot fold there',
          fix: 'Let the crease run from edge to edge of the panel.',
        },
      ]
    return free.map(one => {
      const at = placeOf(plane, one.vertex)
      const ahead = index.ahead(one, lookMm)
      return {
        severity: 'error',
        code: 'crease-short',
        where: 'crease',
        at,
        message:
          ahead === null
            ? 'a crease ends inside the panel and meets no line'
            : `a crease does not reach: it stops ${mm(distance(at, ahead))} before the next line, at ${place(ahead)}`,
        fix: 'Draw the crease up to the line it should meet.',
      }
    })
  })
}

/** Creases with board on one side only. */
function openPanels({ plane, kinds, board, ends }: Sight): readonly DieFinding[] {
  const chosen = [...plane.edges.keys()].filter(
    e => folds(kinds[e]!) && board.panelOf[2 * e]! < 0 !== board.panelOf[2 * e + 1]! < 0,
  )
  const cutEnds = ends.filter(
    ({ kind, edge }) => kind === 'cut' && board.panelOf[2 * edge]! < 0 && board.panelOf[2 * edge + 1]! < 0,
  )
  return runsOf(plane, chosen).flatMap((run): readonly DieFinding[] => {
    const at = middle(plane, run)
    const near = cutEnds
      .map(({ vertex }) => placeOf(plane, vertex))
      .sort((p, q) => distance(p, at) - distance(q, at))
    const [first, second] = near
    const where =
      first === undefined
        ? 'no cut closes it'
        : second === undefined
          ? `the cut ends at ${place(first)}`
          : `the cut is interrupted for ${mm(distance(first, second))} between ${place(first)} and ${place(second)}`
    return [
      {
        severity: 'error',
        code: 'panel-open',
        where: 'panel',
        at,
        message: `the panel on one side of this crease is not closed: ${where}`,
        fix: 'Close the outline of the panel with a cut.',
      },
    ]
  })
}

/** Ends of cuts that face each other across a gap and have not been told with an open panel. */
function gaps({ plane, ends, board }: Sight, open: readonly DieFinding[]): readonly DieFinding[] {
  const cuts = ends.filter(({ kind }) => kind === 'cut')
  return nearestEnds(plane, cuts, gapMm).flatMap((other, i): readonly DieFinding[] => {
    if (other < i) return []
    const end = cuts[i]!
    if (board.panelOf[2 * end.edge]! < 0 && open.length > 0) return []
    const [p, q] = [placeOf(plane, end.vertex), placeOf(plane, cuts[other]!.vertex)]
    return [
      {
        severity: 'warning',
        code: 'cut-gap',
        where: 'cut',
        at: p,
        message: `the cut is interrupted for ${mm(distance(p, q))}, up to ${place(q)}`,
        fix: 'Join the ends, unless the board should hold there.',
      },
    ]
  })
}

/** Lines that lie outside the blank and are part of nothing. */
function loose({ plane, board, kinds }: Sight, isOpen: boolean): readonly DieFinding[] {
  const at = edgesAt(plane)
  const isBoard = (e: number) => board.panelOf[2 * e]! >= 0 || board.panelOf[2 * e + 1]! >= 0
  const stray = [...plane.edges.keys()].filter(e => !isBoard(e))
  const runs = runsOf(plane, stray)
  const findings = runs.flatMap((run): readonly DieFinding[] => {
    const length = run.reduce((sum, e) => sum + lengthOf(plane, e), 0)
    const touches = run.some(e => {
      const { a, b } = plane.edges[e]!
      return [...at[a]!, ...at[b]!].some(isBoard)
    })
    // What hangs on an open panel is told there.
    if (touches && (isOpen || length <= tailMm)) return []
    const crease = run.some(e => folds(kinds[e]!))
    const ends = run.some(e =>
      [plane.edges[e]!.a, plane.edges[e]!.b].some(vertex => at[vertex]!.length === 1),
    )
    // Cuts around waste that hangs on the blank are part of many dies.
    if (touches && !crease && !ends) return []
    return [
      {
        severity: 'warning',
        code: 'line-loose',
        where: crease ? 'crease' : 'cut',
        at: middle(plane, run),
        message: touches
          ? `a line of ${mm(length)} lies outside the blank and closes nothing`
          : `${counted(run.length, 'line')} of ${mm(length)} in all ${run.length === 1 ? 'touches' : 'touch'} nothing of the blank`,
        fix: 'Delete it, or join it to the outline.',
      },
    ]
  })
  return findings
}

/**
 * Lines of one kind that run on each other.
 * @param drawn  how many of the lines are the drawing's own; those after them were added to close gaps
 */
export function doubled(
  plane: Arrangement,
  kinds: readonly EdgeKind[],
  drawn: number,
): readonly DieFinding[] {
  const chosen = [...plane.edges.keys()].filter(
    e => kinds[e] !== 'both' && plane.edges[e]!.lines.filter(line => line < drawn).length > 1,
  )
  return runsOf(plane, chosen).flatMap((run): readonly DieFinding[] => {
    const length = run.reduce((sum, e) => sum + lengthOf(plane, e), 0)
    if (length <= tailMm) return []
    return [
      {
        severity: 'warning',
        code: 'lines-doubled',
        where: 'line',
        at: middle(plane, run),
        message: `lines lie on each other for ${mm(length)}; they are read as one`,
        fix: 'Delete the line that is drawn twice: a die would be ruled twice there.',
      },
    ]
  })
}

/** Middle of the longest piece of a run. */
function middle(plane: Arrangement, run: readonly number[]): Point {
  const longest = run.reduce((a, b) => (lengthOf(plane, b) > lengthOf(plane, a) ? b : a))
  const { a, b } = plane.edges[longest]!
  const [p, q] = [placeOf(plane, a), placeOf(plane, b)]
  return [(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]
}

const distance = (p: Point, q: Point) => Math.hypot(p[0] - q[0], p[1] - q[1])

/** Whether any crease of the drawing folds. */
export const anyFold = (plane: Arrangement, kinds: readonly EdgeKind[], board: Board): boolean =>
  plane.edges.some((_, e) => isFold(e, kinds, board))
