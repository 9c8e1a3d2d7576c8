import type { Clip, InkBlend, Look, Matrix, Paint, Path, SoftMask, StrokeStyle } from '../ink/mark.ts'
import type { ColorSpace } from './reading.ts'
import { initialText, type TextState } from './text-state.ts'

/** A colour as it was set. */
export interface Color {
  readonly space: ColorSpace
  readonly values: readonly number[]
  /** Of a Pattern space: what it paints; null where the pattern cannot be painted. */
  readonly pattern: OpenedPattern | null
}

export interface OpenedPattern {
  readonly paint: Paint
  /** Outside of this path, page mm, it paints nothing; null: it paints everywhere. */
  readonly box: Path | null
  /** What it says of how it is laid down, in place of what the graphics state says. */
  readonly lies: Partial<Look>
}

/** The graphics state (ISO 32000-2, 8.4): replaced, never changed, so that q keeps it by holding on to it. */
export interface GraphicsState {
  /** User space to page mm. */
  readonly matrix: Matrix
  readonly clip: Clip | null
  readonly fill: Color
  readonly stroke: Color
  readonly style: StrokeStyle
  readonly alphaFill: number
  readonly alphaStroke: number
  readonly blend: InkBlend
  readonly softMask: SoftMask | null
  /** Alpha and mask are shape. */
  readonly alphaIsShape: boolean
  readonly overprintFill: boolean
  readonly overprintStroke: boolean
  /** 1: components of DeviceCMYK that are 0 do not paint where it overprints. */
  readonly overprintMode: number
  readonly text: TextState
  /** Glyphs of a text object knock one another out. */
  readonly textKnockout: boolean
}

export const initialStyle: StrokeStyle = {
  width: 1,
  cap: 'butt',
  join: 'miter',
  miterLimit: 10,
  dash: [],
  dashPhase: 0,
}

/** What a content begins with: black, opaque, no mask. */
export function initialState(matrix: Matrix, clip: Clip | null, grey: ColorSpace): GraphicsState {
  const black: Color = { space: grey, values: grey.initial, pattern: null }
  return {
    matrix,
    clip,
    fill: black,
    stroke: black,
    style: initialStyle,
    alphaFill: 1,
    alphaStroke: 1,
    blend: 'normal',
    softMask: null,
    alphaIsShape: false,
    overprintFill: false,
    overprintStroke: false,
    overprintMode: 0,
    text: initialText,
    textKnockout: true,
  }
}

/** What the objects of a group begin with: opacity, mode and mask are the group's. */
export const plainly = (state: GraphicsState): GraphicsState => ({
  ...state,
  alphaFill: 1,
  alphaStroke: 1,
  blend: 'normal',
  softMask: null,
})

const caps = ['butt', 'round', 'square'] as const
const joins = ['miter', 'round', 'bevel'] as const

export const capOf = (value: number): StrokeStyle['cap'] => caps[value] ?? 'butt'
export const joinOf = (value: number): StrokeStyle['join'] => joins[value] ?? 'miter'

/** Lengths that are none, or add up to nothing, are a whole line. */
export function dashOf(lengths: readonly number[] | undefined): readonly number[] {
  if (lengths === undefined || lengths.length > 1000 || lengths.some(length => !(length >= 0))) return []
  return lengths.some(length => length > 0) ? lengths : []
}

const blends: Readonly<Record<string, InkBlend>> = {
  Normal: 'normal',
  Compatible: 'normal',
  Multiply: 'multiply',
  Screen: 'screen',
  Overlay: 'overlay',
  Darken: 'darken',
  Lighten: 'lighten',
  ColorDodge: 'colorDodge',
  ColorBurn: 'colorBurn',
  HardLight: 'hardLight',
  SoftLight: 'softLight',
  Difference: 'difference',
  Exclusion: 'exclusion',
  Hue: 'hue',
  Saturation: 'saturation',
  Color: 'color',
  Luminosity: 'luminosity',
}

/** The first blend mode of these names that is one; undefined where none is. */
export function blendOf(names: readonly (string | undefined)[]): InkBlend | undefined {
  for (const name of names) {
    const blend = name === undefined ? undefined : blends[name]
    if (blend !== undefined) return blend
  }
  return undefined
}
