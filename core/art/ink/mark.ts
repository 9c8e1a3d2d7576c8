import type { InkColor } from '../layer.ts'
import type { FillRule, Matrix, Path } from '../path.ts'

export { type FillRule, type Matrix, type Path, pathStep } from '../path.ts'

/** Where marks may show: inside this path and inside all that came before it. Chains share their beginnings. */
export interface Clip {
  readonly path: Path
  readonly rule: FillRule
  readonly within: Clip | null
}

/** An ink of a page. The process inks come first: Cyan, Magenta, Yellow, Black. */
export interface Ink {
  readonly name: string
  /** What stands for its solid where a device lacks it; null for process inks and where nothing is said. */
  readonly alternate: InkColor | null
  /** Opacity of its solid as the file states it (MixingHints, Solidities), 0..1; null where it says nothing. */
  readonly solidity: number | null
  /** Its place in the file's printing order (MixingHints, PrintingOrder), first is 0; null where it says nothing. */
  readonly order: number | null
}

/** Amounts of the inks that are painted; which others are knocked out is said by `Look.overprint`. */
export interface Tints {
  /** Numbers of inks of the page, without repetition. */
  readonly inks: readonly number[]
  /** 0 none .. 1 solid, one for each of `inks`. */
  readonly values: readonly number[]
}

/** Amounts that change from place to place: a shading, an image. */
export interface InkField {
  readonly inks: readonly number[]
  /** True: what `shape` takes away is opacity, so that in a knock-out group it is knocked out all the same. */
  readonly soft?: boolean
  /**
   * Reads one row of squares `step` mm wide: the first is centred on (x, y), the next `step` further right. Writes the
   * amount of the k-th of `inks` to `out[k]` and how much of the square is painted to `shape` (0 outside), both 0..1.
   */
  row(
    x: number,
    y: number,
    step: number,
    count: number,
    out: readonly Float32Array[],
    shape: Float32Array,
  ): void
}

/** A cell that repeats: its marks are placed at whole multiples of the steps, in pattern space. */
export interface Tiling {
  /** In pattern space; each is placed by `matrix` after its step. */
  readonly marks: readonly Mark[]
  /** Of a cell, pattern space: left, bottom, right, top. Its marks are cut to it. */
  readonly box: readonly [number, number, number, number]
  readonly stepX: number
  readonly stepY: number
  /** Pattern space to that of the mark which is filled: page mm, but inside another cell. */
  readonly matrix: Matrix
}

export type Paint =
  | ({ readonly kind: 'tints' } & Tints)
  | { readonly kind: 'field'; readonly field: InkField }
  | { readonly kind: 'tiling'; readonly tiling: Tiling }

/** Blend modes of PDF (ISO 32000-2, 11.3.5) in our spelling. */
export type InkBlend =
  | 'normal'
  | 'multiply'
  | 'screen'
  | 'overlay'
  | 'darken'
  | 'lighten'
  | 'colorDodge'
  | 'colorBurn'
  | 'hardLight'
  | 'softLight'
  | 'difference'
  | 'exclusion'
  | 'hue'
  | 'saturation'
  | 'color'
  | 'luminosity'

/** What process colours are made of: inks, or what they lack of light. */
export type ProcessSpace = 'CMYK' | 'RGB' | 'Gray'

/** How many of the first inks are process colours. */
export const processCount: Readonly<Record<ProcessSpace, number>> = { CMYK: 4, RGB: 3, Gray: 1 }

/** Colours that a group blends in, where they are not those of what lies around it (ISO 32000-2, 11.3.4). */
export interface Blending {
  readonly own: ProcessSpace
  readonly outer: ProcessSpace
  /**
   * Turns process colours of columns from..to into those of what lies around: a row for each of `own`, into a row for
   * each of `outer`. The same rows may be given twice.
   */
  readonly outward: (
    own: readonly Float32Array[],
    from: number,
    to: number,
    out: readonly Float32Array[],
  ) => void
}

/** Opacity from place to place, made of marks. */
export interface SoftMask {
  /**
   * `alpha`: the group's own opacity. `luminosity`: its marks paint one ink, number 0, whose amount is 1 − luminosity,
   * over a backdrop of `backdrop` (luminosity, 0..1; black, 0, where the file names none).
   */
  readonly from: 'alpha' | 'luminosity'
  readonly marks: readonly Mark[]
  readonly clip: Clip | null
  readonly backdrop: number
  /** 0..1 to 0..1; null leaves the value as it is. */
  readonly transfer: ((value: number) => number) | null
}

/** How a mark is laid over what lies below it. */
export interface Look {
  readonly clip: Clip | null
  /** 0..1 */
  readonly alpha: number
  readonly blend: InkBlend
  readonly softMask: SoftMask | null
  /** True: alpha and mask say how much of it there is at all (ISO 32000-2, 11.6.4.3), which knock-out groups can tell. */
  readonly alphaIsShape?: boolean
  /** True: inks that it does not paint stay as they are; false: they are knocked out. A group paints all inks. */
  readonly overprint: boolean
  /** Number of the layer of the page that it belongs to; null where it lies in none. */
  readonly layer: number | null
}

/** Type that a mark is a part of. */
export interface TextRun {
  /** Marks of one showing operator share one run. */
  readonly value: string
  readonly fontName: string
  /** Height of the em, mm on the page. */
  readonly sizeMm: number
}

export interface StrokeStyle {
  /** In the space of the path, before `StrokeMark.matrix`; 0 is the thinnest line of the device. */
  readonly width: number
  readonly cap: 'butt' | 'round' | 'square'
  readonly join: 'miter' | 'round' | 'bevel'
  readonly miterLimit: number
  /** Lengths on and off in turn, in the space of the path; empty is a whole line. */
  readonly dash: readonly number[]
  readonly dashPhase: number
}

export interface FillMark extends Look {
  readonly kind: 'fill'
  /** Page mm. */
  readonly path: Path
  readonly rule: FillRule
  readonly paint: Paint
  readonly text: TextRun | null
}

export interface StrokeMark extends Look {
  readonly kind: 'stroke'
  /** In the space that it was drawn in, where the pen is a circle. */
  readonly path: Path
  /** That space to page mm. */
  readonly matrix: Matrix
  readonly style: StrokeStyle
  readonly paint: Paint
  readonly text: TextRun | null
}

/** Marks that are laid down together (a transparency group). */
export interface GroupMark extends Look {
  readonly kind: 'group'
  readonly marks: readonly Mark[]
  readonly isolated: boolean
  readonly knockout: boolean
  /** Of an isolated group alone; left out where its marks blend in the colours of what lies around. */
  readonly blending?: Blending
}

export type Mark = FillMark | StrokeMark | GroupMark
