import { PathWriter } from '../core/art/ink/path.ts'
import type { OutlinePath } from '../core/art/layer.ts'
import type { Path } from '../core/art/path.ts'
import { pathOf } from '../core/material/drawn-shapes.ts'
import { patch } from './art.ts'
import { barcodeShapes } from './barcode.ts'
import {
  chartRadius,
  figureNameLines,
  figureStrokes,
  gridRings,
  gridStrokes,
  hourLabels,
  hourRings,
  hourStrokes,
  lensBands,
  lensRadius,
  pole,
  rayStars,
  type Segment,
  starDiscPlaces,
} from './chart.ts'
import type { Ink } from './ink.ts'
import { type Line, outlines } from './lettering.ts'
import { detailLines, titleLines } from './lines.ts'
import { heightMm, type Point, widthMm } from './page.ts'
import { circlePath, cutPath, legendLine, notch, roundBoxPath } from './technical.ts'

/** One shape of a layer that is drawn: filled by the even-odd rule, or a line with round ends. */
export type Drawn =
  | { readonly kind: 'fill'; readonly path: Path }
  | { readonly kind: 'line'; readonly path: Path; readonly penMm: number }

/** Shapes of a layer in one ink, or in the one spot ink of the foil. */
export interface DrawnLayer {
  readonly shapes: readonly Drawn[]
  readonly ink: Ink | 'Holography' | 'Dieline'
}

const fill = (...paths: readonly OutlinePath[]): Drawn => ({ kind: 'fill', path: pathOf(paths) })
const circle = (at: Point, r: number): OutlinePath => circlePath(at, r)
const line = (penMm: number, ...points: readonly Point[]): Drawn => {
  const writer = new PathWriter()
  for (const [i, [x, y]] of points.entries()) {
    if (i === 0) writer.move(x, y)
    else writer.line(x, y)
  }
  return { kind: 'line', path: writer.path(), penMm }
}
const strokes = (segments: readonly Segment[]): readonly Drawn[] =>
  segments.map(({ from, to, thickness }) => line(thickness, from, to))
const ring = (inner: number, outer: number): Drawn =>
  inner === 0 ? fill(circle(pole, outer)) : fill(circle(pole, outer), circle(pole, inner))
const type = (lines: readonly Line[]): readonly Drawn[] => [fill(...lines.flatMap(outlines))]

const none: Ink = [0, 0, 0, 0]
const pale: Ink = [0.34, 0.08, 0, 0]
const dark: Ink = [1, 0.85, 0.2, 0.6]

/** The layers of the demo that are drawn rather than painted, by name. */
export function drawnLayers(): Readonly<Record<string, DrawnLayer>> {
  const page: OutlinePath = roundBoxPath([0, 0, widthMm, heightMm], 0)
  return {
    'Substrate metallised board': { shapes: [fill(page)], ink: [0, 0, 0, 0.14] },
    'Holo lines': {
      shapes: [...strokes(figureStrokes().flatMap(outsideLens)), ...frame()],
      ink: 'Holography',
    },
    'Holo lens rings': { shapes: lensBands().map(([inner, outer]) => ring(inner, outer)), ink: 'Holography' },
    'Holo star rays': { shapes: [fill(...rayStars().map(rayOutline))], ink: 'Holography' },
    'Chart disc': { shapes: [fill(circle(pole, chartRadius))], ink: [0.6, 0.35, 0, 0.34] },
    'Hour lines': {
      shapes: [...strokes(gridStrokes()), ...gridRings().map(([inner, outer]) => ring(inner, outer))],
      ink: pale,
    },
    'Hour scale': {
      shapes: [
        ...strokes(hourStrokes()),
        ...type(hourLabels()),
        ...hourRings().map(([inner, outer]) => ring(inner, outer)),
      ],
      ink: dark,
    },
    'Figure names': { shapes: type(figureNameLines()), ink: pale },
    Stars: { shapes: starDiscPlaces().map(({ at, r }) => fill(circle(at, r))), ink: none },
    Title: { shapes: type(titleLines), ink: none },
    Details: { shapes: type(detailLines), ink: [0.12, 0.02, 0, 0] },
    'Code patch': { shapes: [fill(roundBoxPath(patch, 1.2))], ink: none },
    Bars: { shapes: bars(), ink: [0, 0, 0, 1] },
    Legend: { shapes: type([legendLine]), ink: 'Dieline' },
    Dieline: { shapes: [{ kind: 'line', path: pathOf([cutPath()]), penMm: 0.36 }], ink: 'Dieline' },
  }
}

/** What of the white plate is solid: drawn over its tones. */
export const solidWhite = (): readonly Drawn[] => [
  ...type([...titleLines, ...detailLines, ...figureNameLines()]),
  ...starDiscPlaces().map(({ at, r }) => fill(circle(at, r))),
  fill(roundBoxPath(patch, 1.2)),
]

function bars(): readonly Drawn[] {
  const { bars, digits } = barcodeShapes(patch[0] + 4.45, 9.75, 0.27, 6.7)
  return [...bars.map(box => fill(roundBoxPath(box, 0))), ...type(digits)]
}

/** The frame, open below the notch: there the painted one fades. */
function frame(): readonly Drawn[] {
  const [x0, y0, x1, y1] = [3.4, 3.4, widthMm - 3.4, heightMm - 3.4]
  const below = heightMm - y1
  const half = Math.sqrt((notch.r + 2.5) ** 2 - below ** 2)
  const { knots } = roundBoxPath([x0, y0, x1, y1], 3)
  const writer = new PathWriter()
  writer.move(notch.x - half, y1)
  // From the upper side around: knots run counter-clockwise from the lower right corner.
  const order = [4, 5, 6, 7, 0, 1, 2, 3]
  writer.line(...knots[order[0]!]!.at)
  for (let i = 1; i < order.length; i++) {
    const [a, b] = [knots[order[i - 1]!]!, knots[order[i]!]!]
    writer.curve(...a.out, ...b.in, ...b.at)
  }
  writer.line(notch.x + half, y1)
  return [{ kind: 'line', path: writer.path(), penMm: 0.3 }]
}

/** What of a line lies outside the lens. */
function outsideLens(segment: Segment): readonly Segment[] {
  const { from, to } = segment
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const [px, py] = [from[0] - pole[0], from[1] - pole[1]]
  const [a, b, c] = [dx * dx + dy * dy, 2 * (px * dx + py * dy), px * px + py * py - lensRadius ** 2]
  const root = b * b - 4 * a * c
  if (root <= 0) return [segment]
  const [t0, t1] = [-1, 1].map(sign => (-b + sign * Math.sqrt(root)) / (2 * a)) as [number, number]
  const at = (t: number): Point => [from[0] + t * dx, from[1] + t * dy]
  const parts: Segment[] = []
  if (t0 >= 1 || t1 <= 0) return [segment]
  if (t0 > 0) parts.push({ ...segment, to: at(t0) })
  if (t1 < 1) parts.push({ ...segment, from: at(t1) })
  return parts
}

/** Corners along one side of an arm of a star. */
const armSteps = 24

/** The outline of a four-pointed star: an arm is as wide as `waist` times (1 − distance / reach) to the power of 1.5. */
function rayOutline({ at: [x, y], reach, waist }: ReturnType<typeof rayStars>[number]): OutlinePath {
  const width = (u: number) => waist * Math.max(0, 1 - u / reach) ** 1.5
  // Where the sides of two arms meet: the width there is the distance itself.
  let [low, high] = [0, waist]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (width(middle) > middle) low = middle
    else high = middle
  }
  const side = Array.from({ length: armSteps + 1 }, (_, i): Point => {
    const u = low + ((reach - low) * i) / armSteps
    return [u, width(u)]
  })
  // One eighth, mirrored and turned.
  const arm = [...side.map(([u, v]): Point => [u, -v]), ...side.toReversed().slice(1)]
  const corners = [0, 1, 2, 3].flatMap(quarter =>
    arm.map(([u, v]): Point => {
      const [c, s] = [
        [1, 0],
        [0, 1],
        [-1, 0],
        [0, -1],
      ][quarter] as [number, number]
      return [x + u * c - v * s, y + u * s + v * c]
    }),
  )
  return {
    closed: true,
    continues: true,
    combine: 'unite',
    knots: corners.map(place => ({ in: place, at: place, out: place })),
  }
}
