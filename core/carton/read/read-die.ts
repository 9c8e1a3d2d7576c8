import type { Task } from '../../base/task.ts'
import type { Blank, Hinge, Panel } from '../blank.ts'
import type { Die, DieLine, Outline, Point } from '../die.ts'
import { boxOf } from '../outline.ts'
import { hingeOf, reachOf } from './angles.ts'
import { type Arrangement, arrange, type KindLine, snapTolerance } from './arrange.ts'
import { bodyOf } from './body.ts'
import { type Fold, foldsOf } from './creases.ts'
import type { DieFinding, Drawing } from './drawing.ts'
import { edgeKinds, folds as mayFold } from './edges.ts'
import { connected, facesOf, placeOf } from './faces.ts'
import type { Found } from './found.ts'
import { doubled, judge } from './judge.ts'
import { type KindOptions, sortLines } from './kinds.ts'
import { threaded } from './lock-tongue.ts'
import { mend } from './mend.ts'
import { type NamedPanel, namesOf, readingOrder } from './panel-names.ts'
import { type Board, boardOf } from './panels.ts'
import { flapFindings, scaleFindings } from './size.ts'
import { squaredUp } from './square-up.ts'
import { middlePanel, treeOf } from './tree.ts'
import { counted, place } from './words.ts'

export interface DieOptions extends KindOptions {
  /** Thickness of the board, mm, > 0. */
  readonly caliperMm: number
  /** Whether perforations are lines to tear, which fold nothing, or lines to fold. Tear when left out. */
  readonly perforations?: 'tear' | 'fold'
  /** Name of the panel that stays where it is; the front, or the one nearest the middle, when left out. */
  readonly root?: string
}

export interface FoundPanel extends Panel {
  readonly windows: readonly Outline[]
  /** mm², windows taken out. */
  readonly areaMm2: number
}

/** A drawing that has been understood as far as it goes. */
export interface DieReading {
  readonly die: Die
  /** Null where the drawing cannot be folded; the findings of severity `error` say why. */
  readonly blank: Blank | null
  /** Panels that were found, also where they cannot be folded. */
  readonly panels: readonly FoundPanel[]
  /** Size of the box around the blank, mm; around all lines where there is none. */
  readonly widthMm: number
  readonly heightMm: number
  /** Where the lower left corner of that box lies on the page, mm. Die, blank and findings count from it. */
  readonly origin: Point
  readonly findings: readonly DieFinding[]
}

/**
 * A drawing as die and blank: lines that end within a tenth of a millimetre of each other meet, closed faces become
 * panels, creases between them hinges.
 * @throws BadInput when its lines cross beyond measure
 * @throws Cancelled when the task is told to stop
 */
export function readDie(drawing: Drawing, options: DieOptions, task?: Task): DieReading {
  const sorted = sortLines(drawing, options)
  const ruled = sorted.lines.map(
    (line): KindLine =>
      line.kind === 'perforation' && options.perforations === 'fold' ? { ...line, kind: 'cut-crease' } : line,
  )
  task?.progress?.(0.1, 'Joining lines')
  const first = arrange(ruled, drawing.name, snapTolerance, task)
  const mended = mend(first, edgeKinds(first, ruled))
  const lines = [...ruled, ...mended.lines]
  const whole = mended.lines.length === 0 ? first : arrange(lines, drawing.name, snapTolerance, task)
  const kinds = edgeKinds(whole, lines)
  task?.progress?.(0.6, 'Finding panels')
  const faces = facesOf(whole)
  const found = boardOf(whole, faces, kinds)
  const box = boxOf(extentOf(whole, found, lines))
  const origin: Point = Number.isFinite(box[0]) ? [box[0], box[1]] : [0, 0]
  const [widthMm, heightMm] = Number.isFinite(box[0]) ? [box[2] - box[0], box[3] - box[1]] : [0, 0]
  const move = ([x, y]: Point): Point => [x - origin[0], y - origin[1]]
  const plane: Arrangement = {
    ...whole,
    x: whole.x.map(x => x - origin[0]),
    y: whole.y.map(y => y - origin[1]),
  }
  const board = movedBoard(found, move)
  const { folds, findings: bent } = foldsOf(plane, kinds, board)
  const names = namesOf(board.panels, folds, bodyOf(board.panels, folds))
  const named = names.findIndex(({ name }) => name === (options.root ?? 'front'))
  const root = named >= 0 ? named : middlePanel(board.panels, [widthMm / 2, heightMm / 2])
  const tree = treeOf(board.panels.length, folds, root)
  const findings = [
    ...drawing.findings,
    ...sorted.findings,
    ...mended.findings.map(one => ({ ...one, at: one.at === null ? null : move(one.at) })),
    ...doubled(plane, kinds, ruled.length),
    ...bent,
    ...tree.loops.map(({ fold, panels }) =>
      loop(
        fold,
        panels.map(i => names[i]!.name),
      ),
    ),
    ...judge(plane, kinds, board),
    ...nothingToFold(sorted.lines, board, folds),
    ...otherBlanks(board),
    ...(widthMm > 0 ? scaleFindings(widthMm, heightMm) : []),
    ...glueFlaps(board, folds, names).flatMap(flap => flapFindings(flap, widthMm, heightMm)),
  ]
  const die: Die = {
    lines: sorted.lines.map(({ kind, points }): DieLine => ({ kind, points: points.map(move) })),
    glue: sorted.glue.map(outline => outline.map(move)),
    bleed: sorted.bleed.map(outline => outline.map(move)),
  }
  const panels = readingOrder(board.panels).map((i): FoundPanel => {
    const { outline, holes, areaMm2 } = board.panels[i]!
    return { name: names[i]!.name, outline, windows: holes, areaMm2 }
  })
  const isReverse = ({ edges }: Fold) =>
    edges.every(e => plane.edges[e]!.lines.some(line => ruled[line]?.kind === 'reverse-crease'))
  const foldable = !findings.some(({ severity }) => severity === 'error')
  return {
    die,
    blank: foldable
      ? {
          widthMm,
          heightMm,
          caliperMm: options.caliperMm,
          panels: panels.map(({ name, outline, windows }) => ({
            name,
            outline,
            ...(windows.length > 0 ? { windows } : {}),
          })),
          hinges: moving({
            hinges: tree.branches.map(branch =>
              hingeOf(branch, board.panels, names, tree.branches, options.caliperMm, isReverse),
            ),
            names,
            outlines: new Map(panels.map(({ name, outline }) => [name, outline])),
            caliperMm: options.caliperMm,
          }),
          root: names[root]!.name,
          die,
        }
      : null,
    panels,
    widthMm,
    heightMm,
    origin,
    findings: inBrief(findings),
  }
}

/** Hinges that move as their end closes, where more than one leaf has a say in it. */
const moving = (found: Found): readonly Hinge[] => threaded({ ...found, hinges: squaredUp(found) })

/** What the size of the blank is taken from: its panels; with an open one all that hangs together with them. */
function extentOf(
  plane: Arrangement,
  { panels, panelOf }: Board,
  lines: readonly KindLine[],
): readonly Point[] {
  if (panels.length === 0) return lines.flatMap(({ points }) => points)
  const edges = [...plane.edges.keys()]
  const isBoard = (e: number) => panelOf[2 * e]! >= 0 || panelOf[2 * e + 1]! >= 0
  const kinds = edgeKinds(plane, lines)
  const open = edges.some(e => mayFold(kinds[e]!) && panelOf[2 * e]! < 0 !== panelOf[2 * e + 1]! < 0)
  if (!open) return panels.flatMap(({ outline }) => outline)
  const group = connected(plane)
  const own = new Set(edges.filter(isBoard).map(e => group[plane.edges[e]!.a]))
  return plane.edges.flatMap(({ a, b }) => (own.has(group[a]) ? [placeOf(plane, a), placeOf(plane, b)] : []))
}

function movedBoard(board: Board, move: (point: Point) => Point): Board {
  return {
    ...board,
    panels: board.panels.map(panel => ({
      ...panel,
      outline: panel.outline.map(move),
      holes: panel.holes.map(hole => hole.map(move)),
      center: move(panel.center),
    })),
  }
}

const loop = ({ from, to }: Fold, panels: readonly string[]): DieFinding => ({
  severity: 'error',
  code: 'hinge-loop',
  where: 'crease',
  at: [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2],
  message: `the panels ${panels.map(name => `"${name}"`).join(', ')} hang on each other in a ring, through the crease from ${place(from)} to ${place(to)}`,
  fix: 'Cut one of the creases between them: flat panels in a ring cannot fold one by one.',
})

function nothingToFold(
  lines: readonly KindLine[],
  { panels }: Board,
  folds: readonly Fold[],
): readonly DieFinding[] {
  const none = (code: string, message: string, fix: string): readonly DieFinding[] => [
    { severity: 'error', code, where: 'the drawing', at: null, message, fix },
  ]
  if (lines.length === 0)
    return none(
      'no-lines',
      'there is no line that is known as cut or crease',
      'Draw the die as strokes, with layers named "cut" and "crease".',
    )
  if (panels.length === 0)
    return none(
      'no-panels',
      'the cuts close no panel anywhere',
      'Join the ends of the outline; gaps up to 1 mm are joined by themselves.',
    )
  if (folds.length === 0)
    return none(
      'no-creases',
      'no crease parts two panels, so nothing folds',
      'Draw creases from edge to edge, in a layer named "crease".',
    )
  return []
}

/** Widths of the glue flaps, from crease to free edge, mm. */
const glueFlaps = (
  { panels }: Board,
  folds: readonly Fold[],
  names: readonly NamedPanel[],
): readonly number[] =>
  names.flatMap(({ part }, i) => {
    const fold = part === 'glue flap' ? folds.find(({ panels: pair }) => pair.includes(i)) : undefined
    return fold === undefined ? [] : [reachOf(fold.from, fold.to, panels[i]!.outline)]
  })

const otherBlanks = ({ others }: Board): readonly DieFinding[] =>
  others === 0
    ? []
    : [
        {
          severity: 'warning',
          code: 'other-blanks',
          where: 'the drawing',
          at: null,
          message: `there ${others === 1 ? 'is' : 'are'} ${counted(others, 'more piece')} with creases; the one with the most panels is read`,
          fix: 'Keep one carton in the drawing.',
        },
      ]

/** How many findings of one kind are told one by one. */
const most = 12

function inBrief(findings: readonly DieFinding[]): readonly DieFinding[] {
  const count = new Map<string, number>()
  for (const { code } of findings) count.set(code, (count.get(code) ?? 0) + 1)
  const told = new Map<string, number>()
  return findings.flatMap(finding => {
    const nth = (told.get(finding.code) ?? 0) + 1
    told.set(finding.code, nth)
    const all = count.get(finding.code)!
    if (nth < most || all <= most) return [finding]
    if (nth > most) return []
    return [{ ...finding, message: `${finding.message} (and ${all - most} more like it)` }]
  })
}
