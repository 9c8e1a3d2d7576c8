import type { Layer } from '../../art/layer.ts'
import type { Rings } from '../../base/polygons.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { layerRings } from '../layer-rings.ts'
import { stretch } from '../legibility/object.ts'
import type { AppliedLimit } from '../limits.ts'
import { anyWhite, bytesOf } from '../plane-bytes.ts'
import { colourRoles, layersOf } from '../printed.ts'
import { pixelBox } from '../spot-area.ts'
import type { CoveragePlane } from '../white/contour.ts'
import { mm, saidLimit } from '../words.ts'
import { chordWidths } from './chords.ts'
import { found, limitOf, measured } from './found.ts'
import type { PreflightLimit } from './limits.ts'
import { type LayerShape, layerShape } from './shape.ts'
import { thinOutline } from './thin-outlines.ts'

/** Lines of printed layers that are too thin, printed or left out, for what lies under them. */
export async function thinLines(input: CheckInput, task?: Task): Promise<readonly CheckFinding[]> {
  const { file, map, art } = input
  if (file === null) return []
  const limit = limitOf(input)
  const pixelMm = map.widthMm / art.width
  const shortest = limit('preflight.lineLength').value
  const white = anyWhite(map)
  const metal = bytesOf(map, 'metal')
  const ground = (x: number, y: number): number => {
    const column = Math.min(map.width - 1, Math.max(0, Math.floor(((x + 0.5) / art.width) * map.width)))
    const row = Math.min(map.height - 1, Math.max(0, Math.floor(((y + 0.5) / art.height) * map.height)))
    const at = row * map.width + column
    return (white?.[at] ?? 0) >= 128 || (metal?.[at] ?? 255) < 128 ? 0 : 1
  }
  const size = { width: art.width, height: art.height, widthMm: map.widthMm, heightMm: map.heightMm }
  const layers = layersOf(input, colourRoles)
  const widest = Math.max(
    ...[false, true].flatMap(reversed => limitsOf(limit, reversed)).map(one => one.value),
  )
  const out: CheckFinding[] = []
  for (const [n, layer] of layers.entries()) {
    checkCancelled(task)
    task?.progress?.(n / layers.length, 'Thin lines')
    const rings = layerRings(file, layer, task)
    if (rings !== null) {
      out.push(...thinDrawn(input, layer, rings, limit, shortest, ground))
      continue
    }
    const seen = await layerShape(file, layer, task)
    if (seen === null) continue
    const shape = { ...seen, data: asSolid(seen.data, layer.opacity * layer.fillOpacity) }
    if (isGround(shape, pixelMm, widest) || isSoft(shape)) continue
    for (const reversed of [false, true]) {
      const limits = limitsOf(limit, reversed)
      const lines = reversed ? gapsOf(shape) : shape
      if (lines === null) continue
      const { left, top } = lines
      const thin = thinnest(lines, pixelMm, shortest, limits, (x, y) => ground(x + left, y + top))
      if (thin === null) continue
      out.push(told(layer, reversed, thin, pixelBox(size, moved(thin.box, left, top))))
    }
  }
  return out
}

/**
 * Thin lines of a layer by its outlines. One that is drawn without ink is open: what is thin in it is a gap in what it
 * lies on.
 * @param groundAt of a pixel of the art
 */
function thinDrawn(
  { art, map }: CheckInput,
  layer: Layer,
  rings: Rings,
  limit: ReturnType<typeof limitOf>,
  shortestMm: number,
  groundAt: (x: number, y: number) => number,
): readonly CheckFinding[] {
  const [scaleX, scaleY] = stretch(art, map)
  const finished = rings.map(ring => ring.map(([x, y]) => [x * scaleX, y * scaleY] as const))
  const isOpen = layer.outlines!.every(({ planes }) => planes.length === 0)
  const at = (xMm: number, yMm: number): number =>
    groundAt((xMm / map.widthMm) * art.width - 0.5, (1 - yMm / map.heightMm) * art.height - 0.5)
  return [false, true].flatMap((between): readonly CheckFinding[] => {
    const reversed = between !== isOpen
    const thin = thinOutline(finished, between, shortestMm, limitsOf(limit, reversed), at)
    return thin === null ? [] : [told(layer, reversed, thin, thin.box)]
  })
}

/** What can lie under a line, by number. */
const grounds = ['OnWhite', 'OnFoil'] as const

const limitsOf = (limit: ReturnType<typeof limitOf>, reversed: boolean): readonly AppliedLimit[] =>
  grounds.map(on => limit(`preflight.line${reversed ? 'Reversed' : ''}${on}` satisfies PreflightLimit))

/** A see-through layer as if it were none: how wide its lines are has nothing to do with that. */
function asSolid(data: Uint8Array, opacity: number): Uint8Array {
  if (opacity === 0 || opacity === 1) return data
  const whole = Uint8Array.from({ length: 256 }, (_, one) => Math.min(255, Math.round(one / opacity)))
  const out = new Uint8Array(data.length)
  for (let i = 0; i < data.length; i++) out[i] = whole[data[i]!]!
  return out
}

function told(
  layer: Layer,
  reversed: boolean,
  { widthMm, limit }: Pick<Thin, 'widthMm' | 'limit'>,
  box: CheckFinding['box'],
): CheckFinding {
  const foil = limit.key.endsWith('OnFoil')
  return found({
    severity: 'warning',
    code: reversed ? 'gap-too-thin' : 'line-too-thin',
    of: layer.id,
    where: `layer "${layer.name}"`,
    message: `${reversed ? 'a gap' : 'a line'} of ${mm(widthMm)} on ${foil ? 'bare foil' : 'white'}; the thinnest is ${saidLimit(limit)}`,
    fix: reversed ? 'Widen it, or leave it out.' : 'Make it wider, or put white under it.',
    box,
    measured: measured(widthMm, 'mm', 3),
    limit,
  })
}

interface PixelBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}
const moved = (box: PixelBox, x: number, y: number): PixelBox => ({
  left: box.left + x,
  right: box.right + x,
  top: box.top + y,
  bottom: box.bottom + y,
})

interface Thin {
  readonly widthMm: number
  readonly limit: AppliedLimit
  readonly box: PixelBox
}

/**
 * The thinnest line of a plane that is under its limit and long enough; null where there is none.
 * @param limits   by number of what lies under it
 * @param groundAt that number
 */
function thinnest(
  plane: CoveragePlane,
  pixelMm: number,
  shortestMm: number,
  limits: readonly AppliedLimit[],
  groundAt: (x: number, y: number) => number,
): Thin | null {
  const { width, height, data } = plane
  const widths = chordWidths(plane, pixelMm)
  const least = limits.map(limit => limit.value - tolerance * pixelMm)
  const most = Math.max(...least)
  // 1 + the number of what lies under a thin line.
  const thin = new Uint8Array(data.length)
  const starts: number[] = []
  for (let i = 0; i < data.length; i++) {
    const wide = widths[i]!
    if (wide === 0 || wide >= most) continue
    const ground = groundAt(i % width, Math.floor(i / width))
    if (wide >= least[ground]!) continue
    thin[i] = 1 + ground
    starts.push(i)
  }
  const done = 1 + limits.length
  const isThin = (mark: number) => mark !== 0 && mark !== done
  let worst: Thin | null = null
  for (const start of starts) {
    if (thin[start] === done) continue
    const limit = limits[thin[start]! - 1]!
    // Pixels that touch, also across a corner, are one line.
    const stack = [start]
    thin[start] = done
    let [left, right, top, bottom, sum, count, peak] = [width, 0, height, 0, 0, 0, 0]
    while (stack.length > 0) {
      const i = stack.pop()!
      const [x, y] = [i % width, Math.floor(i / width)]
      left = Math.min(left, x)
      right = Math.max(right, x)
      top = Math.min(top, y)
      bottom = Math.max(bottom, y)
      sum += widths[i]! * data[i]!
      count += data[i]!
      peak = Math.max(peak, data[i]!)
      for (let v = Math.max(0, y - 1); v <= Math.min(height - 1, y + 1); v++)
        for (let u = Math.max(0, x - 1); u <= Math.min(width - 1, x + 1); u++)
          if (isThin(thin[v * width + u]!)) {
            thin[v * width + u] = done
            stack.push(v * width + u)
          }
    }
    if (peak < faint || Math.hypot(right - left, bottom - top) * pixelMm < shortestMm) continue
    const widthMm = sum / count
    if (widthMm >= (worst?.widthMm ?? Number.POSITIVE_INFINITY)) continue
    worst = { widthMm, limit, box: { left, top, right: right + 1, bottom: bottom + 1 } }
  }
  return worst
}

/** A line that nowhere covers more of a pixel than this is a trace, 0..255. */
const faint = 64
/** Pixels of a shape that may be half covered together with all around them, by part: more is a soft picture without lines. */
const softShare = 0.02

/** Whether a shape fills its box and is wider than any line: a ground, with nothing in it to measure. */
const isGround = ({ width, height, data }: CoveragePlane, pixelMm: number, widestMm: number): boolean =>
  (pixelMm * width * height) / Math.hypot(width, height) >= widestMm && data.every(value => value >= solid)

/** Whether a shape fades: hard shapes have half covered pixels along their edges only. */
function isSoft({ width, height, data }: CoveragePlane): boolean {
  const partly = (i: number) => data[i]! >= 8 && data[i]! < solid
  const beside = (i: number, step: number) =>
    partly(i + step) && partly(i - step) && partly(i + 2 * step) && partly(i - 2 * step)
  let [covered, soft] = [0, 0]
  for (let y = 2; y + 2 < height; y++)
    for (let i = y * width + 2, end = (y + 1) * width - 2; i < end; i++) {
      if (data[i]! < 8) continue
      covered++
      // Two pixels all round: a line that is thinner than a pixel, and the edge of a shape, reach no farther.
      if (data[i]! < solid && beside(i, 1) && beside(i, width)) soft++
    }
  return soft > softShare * covered
}

/** Part of a pixel that eight bits of coverage and soft ends may take from a width. */
const tolerance = 0.05

/** From here on a pixel is covered wholly, 0..255: soft edges belong to what lies outside. */
const solid = 247

/** Ways in which a pixel is open to the rim. */
const across = 1
const down = 2

/**
 * What a shape leaves open inside itself, no larger than it is: gaps that it bounds on two sides across or down; what
 * reaches the rim is none. Null where there are none.
 */
function gapsOf({ left, top, width, height, data }: LayerShape): LayerShape | null {
  const open = new Uint8Array(data.length)
  for (let first = 0; first < data.length; first += width) {
    for (let i = first; i < first + width && data[i]! < solid; i++) open[i] = across
    for (let i = first + width - 1; i >= first && data[i]! < solid; i--) open[i] = across
  }
  // Down and up, row by row, as far as each column goes on.
  for (const from of [0, height - 1]) {
    const on = new Uint8Array(width).fill(1)
    for (let n = 0; n < height; n++) {
      const first = Math.abs(from - n) * width
      for (let x = 0; x < width; x++)
        if (on[x] === 1) {
          if (data[first + x]! < solid) open[first + x]! |= down
          else on[x] = 0
        }
    }
  }
  // Open to the rim both across and down: outside, not a gap. Open one way only: a gap with an open end.
  const isGap = (i: number) => open[i] !== (across | down) && data[i] !== 255
  const box = { left: width, right: 0, top: height, bottom: 0 }
  for (let y = 0; y < height; y++)
    for (let x = 0, i = y * width; x < width; x++, i++)
      if (isGap(i)) {
        if (x < box.left) box.left = x
        if (x >= box.right) box.right = x + 1
        if (y < box.top) box.top = y
        box.bottom = y + 1
      }
  if (box.right === 0) return null
  const [columns, rows] = [box.right - box.left, box.bottom - box.top]
  const out = new Uint8Array(columns * rows)
  for (let y = 0; y < rows; y++)
    for (let x = 0, i = (box.top + y) * width + box.left; x < columns; x++, i++)
      if (isGap(i)) out[y * columns + x] = 255 - data[i]!
  return { left: left + box.left, top: top + box.top, width: columns, height: rows, data: out }
}
