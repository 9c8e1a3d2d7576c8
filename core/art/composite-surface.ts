import { type Blend, type BlendMode, componentBlend, filledBlend, separable } from './blend.ts'
import { blackFromSource, type ColorBlend, colorBlend, type Rgb } from './blend-color.ts'
import { boxHeight, boxWidth } from './box.ts'
import type { Box, ColorMode, Surface } from './layer.ts'

export function emptySurface(box: Box, count: number): Surface {
  const size = boxWidth(box) * boxHeight(box)
  return {
    box,
    planes: Array.from({ length: count }, () => new Float32Array(size)),
    alpha: new Float32Array(size),
  }
}

export function copySurface(surface: Surface): Surface {
  return {
    box: surface.box,
    planes: surface.planes.map(plane => plane.slice()),
    alpha: surface.alpha.slice(),
  }
}

/** How a source meets what lies below. */
export interface Paint {
  readonly mode: BlendMode
  /** Fill opacity that acts inside the blend function, 0..1; 1 where it is already part of the source's alpha. */
  readonly fill: number
  readonly colorMode: ColorMode
}

/**
 * Paints `source`, whose box lies inside the target's, over `target`: basic compositing formula,
 * αr = αb + αs − αb·αs, C = ((1−αs)·αb·Cb + αs·(1−αb)·Cs + αs·αb·B(Cb, Cs)) / αr.
 * Source: ISO 32000-2:2020, 11.3.6.
 */
export function paint(target: Surface, source: Surface, how: Paint): void {
  const whole = colorBlend(how.mode)
  if (whole && target.planes.length >= 3 && how.colorMode !== 'Lab') {
    paintWhole(target, source, how, whole)
    return
  }
  const blend =
    (how.fill < 1 ? filledBlend(how.mode, how.fill) : null) ??
    componentBlend(how.mode) ??
    (how.colorMode === 'Lab' ? null : (ofOneComponent[how.mode] ?? null))
  const weight = new Float32Array(boxWidth(source.box))
  eachRun(target, source, (at, from, width) => {
    weigh(target.alpha, at, source.alpha, from, width, weight)
    for (let p = 0; p < target.planes.length; p++) {
      const below = target.planes[p]!
      const above = source.planes[p]!
      if (blend) blendRow(below, target.alpha, at, above, from, weight, width, blend)
      else coverRow(below, at, above, from, weight, width)
    }
    uniteRow(target.alpha, at, source.alpha, from, width)
  })
}

/** What the whole-colour modes leave of a single component. */
const ofOneComponent: Partial<Record<BlendMode, Blend>> = {
  hue: b => b,
  saturation: b => b,
  color: b => b,
  luminosity: (_, s) => s,
  darkerColor: separable.darken,
  lighterColor: separable.lighten,
}

/** Pieces of rows where the source is anything at all: the rest of a row stays what it is. */
function eachRun(
  target: Surface,
  { box, alpha }: Surface,
  run: (at: number, from: number, width: number) => void,
): void {
  const width = boxWidth(box)
  const stride = boxWidth(target.box)
  for (let y = box.top; y < box.bottom; y++) {
    const first = (y - box.top) * width
    const at = (y - target.box.top) * stride + box.left - target.box.left - first
    for (let i = first; i < first + width; ) {
      while (i < first + width && alpha[i] === 0) i++
      const from = i
      // Small gaps are not worth a new start.
      for (let gap = 0; i < first + width && gap < smallGap; i++) gap = alpha[i] === 0 ? gap + 1 : 0
      if (i > from) run(at + from, from, i - from)
    }
  }
}

const smallGap = 16

/** The source's share αs / αr of each result. */
function weigh(
  below: Float32Array,
  at: number,
  above: Float32Array,
  from: number,
  width: number,
  out: Float32Array,
): void {
  for (let i = 0; i < width; i++) {
    const αs = above[from + i]!
    const αb = below[at + i]!
    out[i] = αs > 0 ? αs / (αb + αs - αb * αs) : 0
  }
}

function uniteRow(below: Float32Array, at: number, above: Float32Array, from: number, width: number): void {
  for (let i = 0; i < width; i++) {
    const αb = below[at + i]!
    const αs = above[from + i]!
    below[at + i] = αb + αs - αb * αs
  }
}

function coverRow(
  below: Float32Array,
  at: number,
  above: Float32Array,
  from: number,
  weight: Float32Array,
  width: number,
): void {
  for (let i = 0; i < width; i++) {
    const b = below[at + i]!
    below[at + i] = b + weight[i]! * (above[from + i]! - b)
  }
}

function blendRow(
  below: Float32Array,
  belowAlpha: Float32Array,
  at: number,
  above: Float32Array,
  from: number,
  weight: Float32Array,
  width: number,
  blend: Blend,
): void {
  for (let i = 0; i < width; i++) {
    const w = weight[i]!
    if (w === 0) continue
    const αb = belowAlpha[at + i]!
    const b = below[at + i]!
    const s = above[from + i]!
    below[at + i] = b + w * (s + αb * (blend(b, s) - s) - b)
  }
}

function paintWhole(target: Surface, source: Surface, how: Paint, blend: ColorBlend): void {
  const b: Rgb = [0, 0, 0]
  const s: Rgb = [0, 0, 0]
  const out: Rgb = [0, 0, 0]
  eachRun(target, source, (at, from, width) => {
    for (let i = 0; i < width; i++) {
      const αs = source.alpha[from + i]!
      if (αs <= 0) continue
      const αb = target.alpha[at + i]!
      const αr = αb + αs - αb * αs
      for (let p = 0; p < 3; p++) {
        b[p] = target.planes[p]![at + i]!
        s[p] = source.planes[p]![from + i]!
      }
      blend(b, s, out)
      for (let p = 0; p < 3; p++)
        target.planes[p]![at + i] = b[p]! + (αs / αr) * (s[p]! + αb * (out[p]! - s[p]!) - b[p]!)
      for (let p = 3; p < target.planes.length; p++) {
        const below = target.planes[p]![at + i]!
        const above = source.planes[p]![from + i]!
        const black = blackFromSource(how.mode, b, s) ? above : below
        target.planes[p]![at + i] = below + (αs / αr) * (above + αb * (black - above) - below)
      }
      target.alpha[at + i] = αr
    }
  })
}

/** Fades from `before` to what `target` has become, by a share per pixel: a pass-through group's opacity and mask. */
export function fade(target: Surface, before: Surface, share: Float32Array): void {
  for (let i = 0; i < share.length; i++) {
    const m = share[i]!
    const α0 = before.alpha[i]! * (1 - m)
    const α1 = target.alpha[i]! * m
    const α = α0 + α1
    for (let p = 0; p < target.planes.length; p++)
      if (α > 0) target.planes[p]![i] = (before.planes[p]![i]! * α0 + target.planes[p]![i]! * α1) / α
    target.alpha[i] = α
  }
}
