import {
  type Clip,
  type FillMark,
  type GroupMark,
  type Ink,
  type Look,
  type Mark,
  type Paint,
  type Path,
  pathStep,
  type StrokeMark,
  type StrokeStyle,
} from '../../core/art/ink/mark.ts'
import type { InkPage } from '../../core/art/ink/page.ts'
import { type InkPlanes, type PaintWish, paintPage } from '../../core/art/ink/raster.ts'
import type { Task } from '../../core/base/task.ts'

/** A path from words: `m x y`, `l x y`, `c x y x y x y`, `z`. */
export function path(words: string): Path {
  const steps: number[] = []
  const points: number[] = []
  const names = { m: pathStep.move, l: pathStep.line, c: pathStep.curve, z: pathStep.close }
  for (const word of words.trim().split(/[\s,]+/))
    if (word in names) steps.push(names[word as keyof typeof names])
    else points.push(Number(word))
  return { steps: Uint8Array.from(steps), points: Float64Array.from(points) }
}

export const rect = (left: number, bottom: number, right: number, top: number): Path =>
  path(`m ${left} ${bottom} l ${right} ${bottom} l ${right} ${top} l ${left} ${top} z`)

/** Four cubics; its area is 0.027 % larger than the circle's. */
export function circle(x: number, y: number, r: number): Path {
  const k = r * 0.5522847498
  return path(
    `m ${x + r} ${y} c ${x + r} ${y + k} ${x + k} ${y + r} ${x} ${y + r}
     c ${x - k} ${y + r} ${x - r} ${y + k} ${x - r} ${y} c ${x - r} ${y - k} ${x - k} ${y - r} ${x} ${y - r}
     c ${x + k} ${y - r} ${x + r} ${y - k} ${x + r} ${y} z`,
  )
}

export const plainLook: Look = {
  clip: null,
  alpha: 1,
  blend: 'normal',
  softMask: null,
  overprint: false,
  layer: null,
}

export const tints = (amounts: Readonly<Record<number, number>>): Paint => ({
  kind: 'tints',
  inks: Object.keys(amounts).map(Number),
  values: Object.values(amounts),
})

export const fill = (at: Path, paint: Paint, more: Partial<FillMark> = {}): FillMark => ({
  ...plainLook,
  kind: 'fill',
  path: at,
  rule: 'nonzero',
  paint,
  text: null,
  ...more,
})

export const stroke = (
  at: Path,
  style: Partial<StrokeStyle>,
  more: Partial<StrokeMark> = {},
): StrokeMark => ({
  ...plainLook,
  kind: 'stroke',
  path: at,
  matrix: [1, 0, 0, 1, 0, 0],
  style: { width: 1, cap: 'butt', join: 'miter', miterLimit: 10, dash: [], dashPhase: 0, ...style },
  paint: tints({ 3: 1 }),
  text: null,
  ...more,
})

export const group = (marks: readonly Mark[], more: Partial<GroupMark> = {}): GroupMark => ({
  ...plainLook,
  kind: 'group',
  marks,
  isolated: false,
  knockout: false,
  ...more,
})

export const clip = (at: Path, within: Clip | null = null, rule: Clip['rule'] = 'nonzero'): Clip => ({
  path: at,
  rule,
  within,
})

const inkNames = ['Cyan', 'Magenta', 'Yellow', 'Black', 'White', 'Foil']

/** A page of CMYK, White and Foil. */
export const pageOf = (
  widthMm: number,
  heightMm: number,
  marks: readonly Mark[],
  names: readonly string[] = inkNames,
): InkPage => ({
  widthMm,
  heightMm,
  boxes: { media: [0, 0, widthMm, heightMm], bleed: null, trim: null, crop: null },
  inks: names.map((name): Ink => ({ name, alternate: null, solidity: null, order: null })),
  marks,
  layers: [],
  fonts: [],
  outputIntent: null,
  inexact: [],
  findings: [],
})

/** A page of one pixel a mm. */
export function paintMm(
  width: number,
  height: number,
  marks: readonly Mark[],
  more: Partial<PaintWish> = {},
  task?: Task,
): InkPlanes {
  return paintPage(pageOf(width, height, marks), { widthPx: width, heightPx: height, ...more }, task)
}

/** Pixels' worth of an ink, of a plane. */
export const area = (plane: Uint8Array): number => plane.reduce((sum, v) => sum + v, 0) / 255

/** Amounts of all inks at a pixel, 0..1, and the shape last. */
export const at = ({ inks, shape, width, top }: InkPlanes, x: number, y: number): number[] =>
  [...inks, shape].map(plane => plane[(y - top) * width + x]! / 255)
