import { dashed } from './dash.ts'
import { flatten, type LineSink, largestScale, type Polyline } from './flatten.ts'
import type { Matrix, Path, StrokeStyle } from './mark.ts'
import { at, identity } from './matrix.ts'

/** How far a stroke reaches beyond its path at most, pixels along x and y. */
export function strokeReach(style: StrokeStyle, toPixels: Matrix): readonly [number, number] {
  if (style.width === 0) return [1, 1]
  const half =
    (style.width / 2) * (style.join === 'miter' ? Math.max(style.miterLimit, Math.SQRT2) : Math.SQRT2)
  const [a, b, c, d] = toPixels
  return [half * Math.hypot(a, c), half * Math.hypot(b, d)]
}

/**
 * Outlines of a stroke (ISO 32000-2, 8.4.3), to be filled by the nonzero rule: the pen is a circle in the space of the
 * path, so caps, joins and dashes are made there and then taken to pixels. A width of 0 is drawn one pixel wide (8.4.3.2).
 * @param toPixels   from the space of the path
 * @param tolerance  how far straight pieces may leave a curve, pixels
 */
export function strokePath(
  path: Path,
  style: StrokeStyle,
  toPixels: Matrix,
  tolerance: number,
  sink: LineSink,
): void {
  const scale = largestScale(toPixels)
  if (!(scale > 0)) return
  const hairline = style.width === 0
  const lines = dashed(polylines(path, tolerance / scale), style, 1 / scale)
  const matrix = hairline ? identity : toPixels
  const pen: Pen = {
    half: hairline ? 0.5 : style.width / 2,
    style,
    tolerance: hairline ? tolerance : tolerance / scale,
    move: (x, y) => sink.move(...at(matrix, x, y)),
    line: (x, y) => sink.line(...at(matrix, x, y), false),
  }
  for (const line of lines) {
    strokeLine(hairline ? moved(line, toPixels) : line, pen)
    sink.close()
  }
}

interface Pen {
  readonly half: number
  readonly style: StrokeStyle
  /** In the space that is drawn in. */
  readonly tolerance: number
  readonly move: (x: number, y: number) => void
  readonly line: (x: number, y: number) => void
}

function moved(line: Polyline, matrix: Matrix): Polyline {
  const points: number[] = []
  for (let i = 0; i < line.points.length; i += 2)
    points.push(...at(matrix, line.points[i]!, line.points[i + 1]!))
  return { ...line, points }
}

/** A path as lines; a point that repeats the one before it is left out. */
function polylines(path: Path, tolerance: number): Polyline[] {
  const out: Polyline[] = []
  let points: number[] = []
  let inner: boolean[] = []
  let drawn = false
  const end = (closed: boolean) => {
    if (closed && points.length > 2 && points[0] === points.at(-2) && points[1] === points.at(-1)) {
      points.length -= 2
      inner.length -= 1
    }
    // A place that was only moved to is not painted (8.5.3.2).
    if (drawn || closed) if (points.length > 0) out.push({ points, inner, closed })
  }
  flatten(path, identity, tolerance, {
    move: (x, y) => {
      end(false)
      points = [x, y]
      inner = [false]
      drawn = false
    },
    line: (x, y, isInner) => {
      drawn = true
      if (points.at(-2) === x && points.at(-1) === y) return
      points.push(x, y)
      inner.push(isInner)
    },
    close: () => {
      const [x, y] = points
      end(true)
      points = x === undefined || y === undefined ? [] : [x, y]
      inner = [false]
      drawn = false
    },
  })
  end(false)
  return out
}

function strokeLine(line: Polyline, pen: Pen): void {
  const n = line.points.length / 2
  if (n === 1) {
    strokeDot(line.points[0]!, line.points[1]!, pen)
    return
  }
  const outline: number[] = []
  const sides = new Sides(line, pen, outline)
  if (line.closed && n > 2) {
    for (let i = 0; i < n; i++) sides.join(i, 1)
    send(outline, pen)
    outline.length = 0
    for (let i = n - 1; i >= 0; i--) sides.join(i, -1)
    send(outline, pen)
    return
  }
  // Closed after one piece it turns back on itself: a round join is a round end there, all others are cut off.
  const ends = !line.closed ? pen.style.cap : pen.style.join === 'round' ? 'round' : 'butt'
  for (let i = 1; i < n - 1; i++) sides.join(i, 1)
  sides.cap(n - 1, 1, ends)
  for (let i = n - 2; i > 0; i--) sides.join(i, -1)
  sides.cap(0, -1, ends)
  send(outline, pen)
}

function send(outline: readonly number[], pen: Pen): void {
  pen.move(outline[0]!, outline[1]!)
  for (let i = 2; i < outline.length; i += 2) pen.line(outline[i]!, outline[i + 1]!)
}

/** A line of no length: a dot with round caps, a square along the axes with square ones, nothing with butt ones (8.5.3.2). */
function strokeDot(x: number, y: number, pen: Pen): void {
  const h = pen.half
  if (pen.style.cap === 'butt') return
  const outline: number[] = []
  if (pen.style.cap === 'square') outline.push(x - h, y - h, x + h, y - h, x + h, y + h, x - h, y + h)
  else addArc(outline, x, y, h, 0, 2 * Math.PI, pen.tolerance)
  send(outline, pen)
}

/** Points of an arc about (x, y), its ends included. `turn` radians, either way. */
function addArc(
  out: number[],
  x: number,
  y: number,
  r: number,
  from: number,
  turn: number,
  tolerance: number,
) {
  const step = 2 * Math.acos(Math.max(0, 1 - tolerance / r))
  const n = Math.min(1024, Math.max(1, Math.ceil(Math.abs(turn) / step)))
  for (let i = 0; i <= n; i++) {
    const angle = from + (turn * i) / n
    out.push(x + r * Math.cos(angle), y + r * Math.sin(angle))
  }
}

/** Goes along a line on one side of it and back on the other. `way` 1 forwards, −1 backwards; always on the right hand. */
class Sides {
  readonly #n: number

  constructor(
    readonly line: Polyline,
    readonly pen: Pen,
    readonly out: number[],
  ) {
    this.#n = line.points.length / 2
  }

  #point(i: number): readonly [number, number] {
    const k = (i + this.#n) % this.#n
    return [this.line.points[2 * k]!, this.line.points[2 * k + 1]!]
  }

  /** From point i to j: direction and length. */
  #piece(i: number, j: number): readonly [number, number, number] {
    const [x0, y0] = this.#point(i)
    const [x1, y1] = this.#point(j)
    const length = Math.hypot(x1 - x0, y1 - y0)
    return [(x1 - x0) / length, (y1 - y0) / length, length]
  }

  /** The corner at point i, coming along the piece before it. */
  join(i: number, way: 1 | -1): void {
    const { half, style, tolerance } = this.pen
    const [px, py] = this.#point(i)
    const [ux, uy, before] = this.#piece(i - way, i)
    const [vx, vy, after] = this.#piece(i, i + way)
    // The right hand of (ux, uy), y up, is (uy, −ux).
    const [ax, ay] = [px + half * uy, py - half * ux]
    const [bx, by] = [px + half * vy, py - half * vx]
    const cross = ux * vy - uy * vx
    const dot = ux * vx + uy * vy
    if (Math.abs(cross) < 1e-9 && dot > 0) {
      this.out.push(bx, by)
      return
    }
    if (cross < 0) {
      // The inner side: both edges meet, unless a piece is too short for what its two ends take of it.
      const reach = half * Math.abs(cross / (1 + dot))
      if (dot > -0.99 && 2 * reach <= Math.min(before, after)) this.#corner(px, py, ux, uy, vx, vy, dot)
      else this.out.push(ax, ay, px, py, bx, by)
      return
    }
    const kind = this.line.inner[(i + this.#n) % this.#n] ? 'round' : style.join
    if (kind === 'round') {
      const from = Math.atan2(ay - py, ax - px)
      addArc(this.out, px, py, half, from, Math.atan2(Math.abs(cross), dot), tolerance)
      return
    }
    // Miter length over width is 1 / sin(φ/2) with φ the angle between the pieces (8.4.3.5).
    const ratio = Math.sqrt(2 / Math.max(1e-12, 1 + dot))
    if (kind === 'miter' && ratio <= style.miterLimit) this.#corner(px, py, ux, uy, vx, vy, dot)
    else this.out.push(ax, ay, bx, by)
  }

  /** Where the edges of two pieces meet, on this side. */
  #corner(px: number, py: number, ux: number, uy: number, vx: number, vy: number, dot: number): void {
    const k = this.pen.half / (1 + dot)
    this.out.push(px + k * (uy + vy), py - k * (ux + vx))
  }

  /** The end at point i; then the way back begins. */
  cap(i: number, way: 1 | -1, kind: StrokeStyle['cap']): void {
    const { half, tolerance } = this.pen
    const [px, py] = this.#point(i)
    const [ux, uy] = this.#piece(i - way, i)
    const [ax, ay] = [px + half * uy, py - half * ux]
    const [bx, by] = [px - half * uy, py + half * ux]
    switch (kind) {
      case 'butt':
        this.out.push(ax, ay, bx, by)
        return
      case 'square':
        this.out.push(ax + half * ux, ay + half * uy, bx + half * ux, by + half * uy)
        return
      case 'round':
        addArc(this.out, px, py, half, Math.atan2(ay - py, ax - px), Math.PI, tolerance)
    }
  }
}
