import type { Bounds } from '../ink/outline.ts'
import { moved } from '../ink/path.ts'
import type { DrawnShape, InkColor, OutlinePath, VectorMask } from '../layer.ts'
import { type Path, pathStep } from '../path.ts'
import { plainMask } from '../plain-layer.ts'
import { clipBounds, contains, markBounds, pathBounds, penMm } from './bounds.ts'
import { inksOf, type Leaf, type PaintMark, sameTints } from './leaves.ts'

/**
 * The shapes that a leaf is drawn by, bottom first; null where they are not all of it: pictures, shadings, patterns,
 * masks, transparency, and clips that cut.
 * @param process colour space of the process inks and how many there are, which are the first planes of the art
 */
export function shapesOf(leaf: Leaf, process: Process): readonly DrawnShape[] | null {
  if (!leaf.marks.every(isShape)) return null
  return leaf.marks.map((mark): DrawnShape => {
    const planes = paintedInks(mark)
    if (mark.kind === 'fill') return { path: mark.path, rule: mark.rule, penMm: null, planes }
    const color = colorOf(mark, process)
    return {
      path: moved(mark.path, mark.matrix),
      rule: null,
      penMm: penMm(mark.style.width, mark.matrix),
      planes,
      ...(mark.style.dash.length > 0 ? { dashed: true as const } : {}),
      ...(color === null ? {} : { color }),
    }
  })
}

/** Process inks of a page: their colour space and how many there are. */
interface Process {
  readonly space: 'CMYK' | 'RGB'
  readonly count: number
}

function colorOf({ paint }: PaintMark, process: Process): string | null {
  const fill = paint.kind === 'tints' ? fillOf(paint, process) : null
  if (fill === null) return null
  if (fill.space === 'CMYK') return `CMYK ${fill.values.map(value => Number(value.toFixed(3))).join(' ')}`
  const parts = fill.values.map(value =>
    Math.round(255 * value)
      .toString(16)
      .padStart(2, '0'),
  )
  return `#${parts.join('')}`
}

/** Whether a mark is its outline and nothing else. */
function isShape(mark: PaintMark): boolean {
  return (
    mark.paint.kind === 'tints' &&
    mark.alpha === 1 &&
    mark.blend === 'normal' &&
    mark.softMask === null &&
    !isCut(mark)
  )
}

/** Whether a clip takes something away. A clip of one box around the mark does not. */
function isCut(mark: PaintMark): boolean {
  const limit = clipBounds(mark.clip)
  if (limit === null) return false
  const own = markBounds({ ...mark, clip: null })
  if (!contains(limit, own)) return true
  for (let at = mark.clip; at !== null; at = at.within) if (!isBox(at.path)) return true
  return false
}

/** Whether a path is one upright rectangle. */
export function isBox(path: Path): boolean {
  const [left, bottom, right, top] = pathBounds(path)
  let corners = 0
  for (const step of path.steps) {
    if (step === pathStep.curve) return false
    if (step === pathStep.move && corners > 0) return false
    if (step !== pathStep.close) corners++
  }
  if (corners < 4 || corners > 5) return false
  const { points } = path
  for (let i = 0; i + 1 < points.length; i += 2) {
    const [x, y] = [points[i]!, points[i + 1]!]
    if ((x !== left && x !== right) || (y !== bottom && y !== top)) return false
  }
  // Four corners that all differ, one after another along the sides.
  for (let i = 0; i < 3; i++)
    if (points[2 * i] !== points[2 * i + 2] && points[2 * i + 1] !== points[2 * i + 3]) return false
  return true
}

const paintedInks = (mark: PaintMark): readonly number[] =>
  mark.paint.kind === 'tints'
    ? mark.paint.inks.filter((_, i) => (mark.paint.kind === 'tints' ? mark.paint.values[i]! : 0) > 0)
    : inksOf(mark.paint)

/** A leaf that is one plain shape: filled with one tint, solid, and knocking out what lies below. */
export interface PlainShape {
  readonly mask: VectorMask
  readonly fill: InkColor | null
}

/** Numbers of the points of outlines that are kept knot by knot. */
const mostPoints = 100_000

/**
 * The leaf as one filled outline, for who looks at edges closer than pixels do; null where it is more than that.
 * @param process colour space of the process inks and how many there are
 */
export function plainShape(leaf: Leaf, process: Process): PlainShape | null {
  const [first] = leaf.marks
  if (first === undefined || first.kind !== 'fill' || first.paint.kind !== 'tints') return null
  const plain = leaf.marks.every(
    mark =>
      mark.kind === 'fill' &&
      isShape(mark) &&
      mark.overprint === first.overprint &&
      sameTints(mark.paint, first.paint),
  )
  if (!plain || first.overprint) return null
  // The alpha of spot inks is their amount: an outline tells it where that is all of it.
  if (leaf.spots !== null && !first.paint.values.every(value => value === 1)) return null
  const points = leaf.marks.reduce((sum, mark) => sum + mark.path.points.length, 0)
  if (points > mostPoints) return null
  const paths = leaf.marks.flatMap(mark => (mark.kind === 'fill' ? outlinesOf(mark.path, mark.rule) : []))
  return { mask: plainMask(paths), fill: leaf.spots === null ? fillOf(first.paint, process) : null }
}

function fillOf(
  { inks, values }: { readonly inks: readonly number[]; readonly values: readonly number[] },
  { space, count }: Process,
): InkColor | null {
  if (inks.some(ink => ink >= count)) return null
  const amounts = Array.from({ length: count }, (_, ink) => values[inks.indexOf(ink)] ?? 0)
  return { space, values: space === 'RGB' ? amounts.map(amount => 1 - amount) : amounts }
}

type Knot = OutlinePath['knots'][number]

/** A filled path as outlines that are joined one after another: even-odd as one shape, nonzero by their windings. */
export function outlinesOf(path: Path, rule: DrawnShape['rule']): readonly OutlinePath[] {
  const loops = loopsOf(path)
  if (rule !== 'nonzero' || loops.length < 2)
    return loops.map((knots, i) => ({ closed: true, continues: i > 0, combine: 'unite', knots }))
  // Larger ones first, so that what lies in a hole comes after it.
  const sized = loops
    .map(knots => ({ knots, area: areaOf(knots), bounds: boundsOf(knots) }))
    .toSorted((a, b) => Math.abs(b.area) - Math.abs(a.area))
  const winding = (i: number): number =>
    sized.slice(0, i).reduce((sum, outer) => {
      return sum + (contains(outer.bounds, sized[i]!.bounds) ? Math.sign(outer.area) : 0)
    }, Math.sign(sized[i]!.area))
  return sized.map(({ knots }, i) => ({
    closed: true,
    continues: false,
    combine: winding(i) === 0 ? 'subtract' : 'unite',
    knots,
  }))
}

/** A line as it is drawn: open where it is open. */
export function linesOf(path: Path): readonly OutlinePath[] {
  const closed: boolean[] = []
  const loops = loopsOf(path, closed)
  return loops.map((knots, i) => ({ closed: closed[i]!, continues: false, combine: 'unite', knots }))
}

function loopsOf({ steps, points }: Path, closed: boolean[] = []): readonly (readonly Knot[])[] {
  const loops: Knot[][] = []
  let open: { in: Knot['in']; at: Knot['at']; out: Knot['out'] }[] = []
  let at = 0
  const next = (): readonly [number, number] => {
    const point = [points[at]!, points[at + 1]!] as const
    at += 2
    return point
  }
  const end = (isClosed: boolean): void => {
    if (open.length > 1) {
      const [first, last] = [open[0]!, open.at(-1)!]
      const meets = first.at[0] === last.at[0] && first.at[1] === last.at[1]
      if (isClosed && meets && open.length > 2) {
        first.in = last.in
        open.pop()
      }
      loops.push(open)
      closed.push(isClosed)
    }
    open = []
  }
  for (const step of steps) {
    if (step === pathStep.close) {
      const start = open[0]?.at
      end(true)
      // What goes on after a close begins where that began.
      if (start) open = [{ in: start, at: start, out: start }]
      continue
    }
    if (step === pathStep.move) {
      end(false)
      const point = next()
      open = [{ in: point, at: point, out: point }]
    } else if (step === pathStep.line) {
      const point = next()
      open.push({ in: point, at: point, out: point })
    } else {
      const [out, into, point] = [next(), next(), next()]
      const last = open.at(-1)
      if (last) last.out = out
      open.push({ in: into, at: point, out: point })
    }
  }
  end(false)
  return loops
}

const boundsOf = (knots: readonly Knot[]): Bounds =>
  pathBounds({
    steps: new Uint8Array(),
    points: Float64Array.from(knots.flatMap(({ in: into, at, out }) => [...into, ...at, ...out])),
  })

/** Twice the area, counter-clockwise above 0; of curves by their control polygon, which turns as they do. */
function areaOf(knots: readonly Knot[]): number {
  const points = knots.flatMap(({ in: into, at, out }) => [into, at, out])
  return points.reduce((sum, [x, y], i) => {
    const [u, v] = points[(i + 1) % points.length]!
    return sum + x * v - u * y
  }, 0)
}
