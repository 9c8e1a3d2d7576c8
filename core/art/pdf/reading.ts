import type { Finding } from '../../base/finding.ts'
import type { ReadGlyphs } from '../../base/glyph-reader.ts'
import type { ImageCodecs } from '../../base/image-codecs.ts'
import type { PDFContext, PDFDict, PDFObject } from '../../base/pdf.ts'
import type { Task } from '../../base/task.ts'
import type { Ink, InkField, Matrix, Path, Tints } from '../ink/mark.ts'
import type { InkColor } from '../layer.ts'

// What the parts of the reader hand one another.

/** Inks of a page as they are met, the process inks first. */
export interface InkSet {
  readonly list: readonly Ink[]
  /** Number of the ink of this name; a new one is added. `alternate` is asked only then. */
  numberOf(name: string, alternate: () => Ink['alternate']): number
}

/** What reading is done with. One for each page, one of its own for the marks of a luminosity mask. */
export interface Reading {
  readonly context: PDFContext
  /** File name, for messages. */
  readonly file: string
  readonly inks: InkSet
  /**
   * `inks`: colours become amounts of the inks of the page. `luminosity`: they become the one ink 0, whose amount is
   * 1 − luminosity.
   */
  readonly aim: 'inks' | 'luminosity'
  /** Of inks: the light that colours which name none of them are blended in; null: the process inks. */
  readonly light: Light | null
  /** Makes ink of colours that are none yet (RGB, Lab). */
  readonly separator: Separator
  readonly codecs: ImageCodecs
  readonly findings: Finding[]
  /** Objects whose inks cannot be told exactly. */
  readonly inexact: Finding[]
  readonly task: Task | undefined
}

/**
 * Light that a group blends in (ISO 32000-2, 11.3.4): its first inks are what a colour lacks of it. Equal ones are one
 * object. RGB without a profile is sRGB; grey is coded as in sRGB.
 */
export type Light =
  | { readonly space: 'RGB'; readonly profile: Uint8Array | null }
  | { readonly space: 'Gray' }

/** What numbers of colours stand for. Without a profile RGB is taken for sRGB, and a finding says so. */
export type ColorSource =
  | { readonly space: 'RGB'; readonly profile: Uint8Array | null }
  /** L* 0..100, a*, b*, D50. */
  | { readonly space: 'Lab' }

export interface Separator {
  /** Of the print condition that colours are separated for. */
  readonly profile: Uint8Array
  /**
   * @param values colours one after another, components 0..1 (Lab as it is)
   * @returns C, M, Y, K of each, 0..1; the next call may overwrite it
   */
  readonly cmyk: (source: ColorSource, values: Float32Array) => Float32Array
  /** The same as light: R, G, B or grey of each, 0..1, in a new array. CMYK is that of the print condition. */
  readonly light: (
    source: ColorSource | { readonly space: 'CMYK' },
    light: Light,
    values: Float32Array,
  ) => Float32Array
}

/** A colour space of PDF, opened. */
export interface ColorSpace {
  /** `DeviceCMYK` also for a profile of the print condition's own: zeros of it may overprint (ISO 32000-2, 8.6.7). */
  readonly family: 'DeviceCMYK' | 'Pattern' | 'Indexed' | 'other'
  readonly components: number
  /** The colour that it begins with. */
  readonly initial: readonly number[]
  /** Lowest and highest value of each component as an image's samples are spread over them, in pairs. */
  readonly decode: (bitsPerComponent: number) => readonly number[]
  /** The inks that colours of it paint: always the same. Empty for the ink None. */
  readonly inks: readonly number[]
  /** Amounts for `inks`, 0..1. Values out of range are clipped. */
  readonly tints: (values: ArrayLike<number>) => Tints['values']
  /** The same of colours one after another, in the spaces' own numbers; `inks.length` amounts each, in a new array. */
  readonly manyTints: (values: Float32Array) => Float32Array
  /** Where every ink is one of the components as it is, 0..1: which one, for each of `inks`; else null. */
  readonly direct: readonly number[] | null
  /** A colour in the numbers that stand for an ink of it. */
  readonly inkColor: (values: readonly number[]) => InkColor
  /** Of an uncoloured Pattern: the space of its colour. */
  readonly under: ColorSpace | null
}

/** A colour space by what a page has for it: a name or an array. Throws BadInput for what is none. */
export type OpenColorSpace = (reading: Reading, object: PDFObject, resources: PDFDict | null) => ColorSpace

/** A shading as amounts of ink from place to place. */
export interface OpenedShading {
  readonly field: InkField
  /** Where it paints at all, page mm; null: wherever it is asked. */
  readonly box: Path | null
  /** Paints outside its own area when it is a pattern: already in the field when `asPattern` was asked. */
}
export type OpenShading = (
  reading: Reading,
  dict: PDFObject,
  matrix: Matrix,
  asPattern: boolean,
  resources: PDFDict | null,
) => OpenedShading

/**
 * An image (XObject or inline) on the unit square that `matrix` takes to the page. A stencil takes `paint`.
 * Its SMask, Mask, colour key, Decode and Matte are in the field. The field does not end at the square, which is the
 * path of the mark that it paints: a place outside has the samples of the edge.
 */
export type OpenImage = (
  reading: Reading,
  image: PDFObject,
  matrix: Matrix,
  resources: PDFDict | null,
  paint: Tints,
) => Promise<InkField>

/** One glyph as it is shown. */
export interface Glyph {
  /** How far it moves the pen, ems: to the right; in vertical writing up, so that it is mostly less than 0. */
  readonly advance: number
  /** The em is 1; null where it has no outline (a space), and in Type 3 fonts. */
  readonly outline: Path | null
  readonly unicode: string
  /** True for the one-byte code 32, which word spacing counts. */
  readonly isSpace: boolean
  /** Of a Type 3 font: its content, to be run with the font's matrix. */
  readonly content: PDFObject | null
  /** Vertical writing: from the horizontal origin to the vertical one; else null. */
  readonly origin: readonly [number, number] | null
}

export interface OpenedFont {
  readonly name: string
  readonly embedded: boolean
  readonly vertical: boolean
  /** Of a Type 3 font: glyph space to text space, and its resources; else null. */
  readonly type3: { readonly matrix: Matrix; readonly resources: PDFDict | null } | null
  readonly glyphs: (shown: Uint8Array) => readonly Glyph[]
}

/** The fonts of a page, opened for the strings that it shows in them. Asked before the marks are read. */
export type OpenFonts = (
  reading: Pick<Reading, 'context' | 'file' | 'findings' | 'task'>,
  shown: ReadonlyMap<PDFDict, readonly Uint8Array[]>,
  /** Reads the fonts' own files; may reject where they take too long. */
  readGlyphs: ReadGlyphs,
) => Promise<ReadonlyMap<PDFDict, OpenedFont>>
