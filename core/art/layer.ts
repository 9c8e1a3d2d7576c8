import type { Finding } from '../base/finding.ts'
import type { Rings } from '../base/polygons.ts'
import type { Task } from '../base/task.ts'
import type { FillRule, Path } from './path.ts'
import type { StatedStep } from './step.ts'

export type ColorMode =
  | 'Bitmap'
  | 'Grayscale'
  | 'Indexed'
  | 'RGB'
  | 'CMYK'
  | 'Multichannel'
  | 'Duotone'
  | 'Lab'

/** Document pixels, y down; right and bottom are exclusive. May reach outside the document. */
export interface Box {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Document rows, y down; bottom is exclusive. */
export interface Rows {
  readonly top: number
  readonly bottom: number
}

/**
 * Samples of one channel over a box, row by row, as the file holds them.
 * CMYK and spot planes keep the file's polarity: the highest value is no ink, 0 is solid.
 * 1-bit files are widened to 8 bits (0 = black 0, white 255); 32-bit float files arrive as Float32Array.
 */
export interface Plane {
  readonly box: Box
  readonly data: Uint8Array | Uint16Array | Float32Array
}

/** A closed or open outline; knots in millimetres from the document's lower left corner, y up. */
export interface OutlinePath {
  readonly closed: boolean
  /** True when it belongs to the shape that the outline before it began: one shape is filled by the even-odd rule. */
  readonly continues: boolean
  /** How the shape that this outline begins joins what came before it. */
  readonly combine: 'exclude' | 'unite' | 'subtract' | 'intersect'
  /** Each knot: the incoming control point, the anchor, the outgoing control point, [x, y] each. */
  readonly knots: readonly {
    readonly in: readonly [number, number]
    readonly at: readonly [number, number]
    readonly out: readonly [number, number]
  }[]
}

/** A shape that a layer or channel is drawn by, as the file has it: nothing of it is pixels. */
export interface DrawnShape {
  /** mm from the document's lower left corner, y up. */
  readonly path: Path
  /** Of a filled shape; null of a line that is drawn with a pen. */
  readonly rule: FillRule | null
  /** Of a line: how wide it is drawn, mm, 0 the thinnest there is; null of a filled shape. */
  readonly penMm: number | null
  /** Drawn in dashes. */
  readonly dashed?: true
  /** Of a line in process inks alone: its colour, to tell it from others: `#rrggbb`, or `CMYK` and its parts of each ink. */
  readonly color?: string
  /** Index of the ink or inks that paint it, as `Channel.plane` counts; those of its amount 0 are left out. */
  readonly planes: readonly number[]
}

export interface VectorMask {
  readonly paths: readonly OutlinePath[]
  readonly inverted: boolean
  readonly disabled: boolean
  /** The empty plane starts full rather than empty (first fill rule record). */
  readonly startsFull: boolean
  /** 0..1 */
  readonly density: number
  /** Radius, document pixels. */
  readonly feather: number
  /** The file's own picture of the outlines (`vectorMaskPlane`) and its sample outside the box, 0..255; else null. */
  readonly raster: { readonly box: Box; readonly outside: number } | null
}

export interface PixelMask {
  readonly box: Box
  /** Sample outside the box, 0..255. */
  readonly outside: number
  readonly disabled: boolean
  readonly inverted: boolean
  /** 0..1 */
  readonly density: number
  /** Radius, document pixels. */
  readonly feather: number
}

/** An ink, described in the numbers the file gives. */
export interface InkColor {
  readonly space: 'RGB' | 'CMYK' | 'Lab' | 'Gray' | 'HSB' | 'other'
  /** RGB, CMYK, Gray, HSB in 0..1 (CMYK 1 = solid); Lab as L* a* b*. */
  readonly values: readonly number[]
}

export interface Layer {
  /** Stable inside one file: the file's own layer id where it has one, else `n` + stacking index. Unique. */
  readonly id: string
  readonly name: string
  /** `flat`: the picture of a file without layers, given as one layer `flat` so that it can play a role. */
  readonly kind: 'group' | 'pixel' | 'shape' | 'fill' | 'text' | 'adjustment' | 'smartObject' | 'flat'
  /** The id of the group it lies in, or null. */
  readonly parent: string | null
  readonly visible: boolean
  /** Layer opacity and fill opacity, 0..1. */
  readonly opacity: number
  readonly fillOpacity: number
  /** `normal`, `multiply`, `passThrough`, … (camelCase trade words; see blend.ts). */
  readonly blendMode: string
  /** Clipped to the first unclipped layer below it. */
  readonly clipped: boolean
  /** Of its pixels; of a group: around its members. */
  readonly box: Box
  /** Ids of the channels that hold data: 0.. process, -1 alpha. */
  readonly channelIds: readonly number[]
  readonly mask: PixelMask | null
  readonly vectorMask: VectorMask | null
  /** Text kept as text. Box in mm from the document's lower left corner, y up. */
  readonly text: {
    readonly value: string
    readonly boxMm: readonly [number, number, number, number] | null
  } | null
  /** Solid fills: the ink numbers as the file gives them. */
  readonly fill: InkColor | null
  /** Names of layer effects that are switched on (drop shadow, stroke, …). */
  readonly effects: readonly string[]
  /** Kind of adjustment (curves, levels, …) or null. */
  readonly adjustment: string | null
  readonly findings: readonly Finding[]
  /** The processing step that the file states for it, where it states one. */
  readonly step?: StatedStep
  /** The shapes that it is drawn by, bottom first, where the file is drawn rather than painted. */
  readonly outlines?: readonly DrawnShape[]
  /** It is a path that the file keeps beside its layers: hidden in the file's own picture, as paths are. */
  readonly savedPath?: true
  /** Ids of the spot channels that it prints, where it prints no process ink. */
  readonly inks?: readonly string[]
}

/** A document channel beyond the process colours. */
export interface Channel {
  readonly id: string
  readonly name: string
  readonly kind: 'spot' | 'alpha' | 'transparency'
  readonly ink: InkColor | null
  /** Solidity of the ink as the file states it, 0..1, or null. */
  readonly opacity: number | null
  /** Index among the composite planes. */
  readonly plane: number
  /** The processing step of the layers that all of it lies in, where they state one and the same. */
  readonly step?: StatedStep
  /** Ids of the layers that print it, where the file says so. */
  readonly layers?: readonly string[]
  /** Place in the file's own printing order, first is 0, where it states one. */
  readonly order?: number
  /** By that order it prints before all process inks, or after one of them; missing where the order does not say. */
  readonly process?: 'under' | 'over'
}

export interface DocumentPath {
  readonly name: string
  readonly clipping: boolean
  readonly paths: readonly OutlinePath[]
}

/** All that a layered file says, without its pixels. Plain data: it can cross a process border. */
export interface Art {
  readonly name: string
  /** `plates`: images of one plate each that make up the art together. */
  readonly format: 'PSD' | 'PSB' | 'PDF' | 'SVG' | 'TIFF' | 'PNG' | 'JPEG' | 'plates'
  readonly width: number
  readonly height: number
  readonly resolutionPpi: number | null
  readonly colorMode: ColorMode
  /** Bits a sample: 1, 8, 16 or 32. */
  readonly depth: number
  /** Bottom to top, flat; a group stands directly above its members. Group end markers are not counted. */
  readonly layers: readonly Layer[]
  readonly channels: readonly Channel[]
  readonly paths: readonly DocumentPath[]
  readonly profile: { readonly name: string; readonly bytes: Uint8Array } | null
  /** Indexed and duotone files: 256 × RGB, 0..255, planar R then G then B; else null. */
  readonly palette: Uint8Array | null
  /** The file's own flattened picture: absent when the file was saved without a real one. */
  readonly hasComposite: boolean
  readonly findings: readonly Finding[]
  /** Of a file of pages. */
  readonly page?: ArtPage
}

/** What a page of a file says beside its layers. */
export interface ArtPage {
  /** Number of the page that is read, 1 is the first, and how many there are. */
  readonly number: number
  readonly count: number
  /** Of a drawn page, mm, as the file has it: the last pixels reach over its edge or stop short of it. */
  readonly sizeMm?: readonly [width: number, height: number]
  /** mm from the lower left corner of the art: left, bottom, right, top. */
  readonly trim: readonly [number, number, number, number] | null
  readonly bleed: readonly [number, number, number, number] | null
  /** Fonts that its type is set in; those that are not in the file were replaced. */
  readonly fonts: readonly { readonly name: string; readonly embedded: boolean }[]
  /** Objects whose inks cannot be told exactly: what, where and why. Empty: every plane is exact. */
  readonly inexact: readonly Finding[]
  /** `layers`: what is painted is told by layer alone, not by ink. */
  readonly readAs: ReadAs
}

/** How a page is read: every ink by itself, or only where its layers are painted. */
export type ReadAs = 'inks' | 'layers'

/**
 * A picture being built: process planes and alpha over a box, 0..1, row by row, planes in the file's polarity
 * (CMYK: 1 = no ink) and not multiplied by alpha.
 */
export interface Surface {
  readonly box: Box
  readonly planes: readonly Float32Array[]
  readonly alpha: Float32Array
}

/** A file opened for reading: what it says, and its pixels on demand (nothing is decoded before it is asked for). */
export interface ArtFile {
  readonly art: Art
  /**
   * One channel of a layer (0.. process, -1 alpha); null when the layer has no such channel or no pixels.
   * `rows` says which document rows will be looked at: the plane holds at least those that the layer has,
   * and fewer others where the coding lets a reader skip them. Without it, all.
   */
  layerPlane(layerId: string, channelId: number, rows?: Rows): Promise<Plane | null>
  /** The layer's pixel mask, 0 = hidden; null when it has none. Density and feather are not applied. */
  maskPlane(layerId: string): Promise<Plane | null>
  /** The file's own picture of the layer's vector mask, times its pixel mask where it has both; null when the file holds none. */
  vectorMaskPlane(layerId: string): Promise<Plane | null>
  /** Plane `index` of the document: process colours first, then `Channel.plane`. */
  documentPlane(index: number, rows?: Rows): Promise<Plane>
  /**
   * The picture of these layers (no groups) over a box, as the file itself lays them over one another. Where it is
   * missing, layers are laid over one another by their own fields.
   */
  paintLayers?(layers: ReadonlySet<string>, box: Box, how: PaintHow, task: Task | undefined): Promise<Surface>
  /**
   * The same art with `times` as many pixels along each side, a whole number, drawn anew; ids and names stay. Missing
   * where art is pixels to begin with.
   * @param part of it that is drawn, in those pixels: beside it there is nothing
   */
  finer?(times: number, part: Box): ArtFile
  /**
   * Where something of it ends, by the outlines that it is drawn by; null where there are too many. Missing where art is
   * pixels to begin with.
   */
  edges?(of: EdgesOf, task: Task | undefined): DrawnEdges | null
  /** Lets go of pixels that it keeps for whoever asks for them again. */
  release?(): void
}

/** Something that has edges. */
export type EdgesOf =
  /** What these layers, no groups, paint by themselves: of their spot inks a half and more, where they print no others. */
  | { readonly kind: 'layers'; readonly layers: ReadonlySet<string> }
  /** The process inks of layers: where the strongest is `least`, 0..1, and more. `knocking` as {@link PaintHow} has it. */
  | {
      readonly kind: 'process'
      readonly layers: ReadonlySet<string>
      readonly knocking: ReadonlySet<string>
      readonly least: number
    }
  /** Plane of the document: where it is `least` and more. */
  | { readonly kind: 'plane'; readonly plane: number; readonly least: number }

/** What is drawn by outlines, over what is not. */
export interface DrawnEdges {
  /**
   * The same art without what {@link steps} has; null where nothing is left. Pictures, shadings and what is seen through,
   * with what lies under them.
   */
  readonly below: ArtFile | null
  /** What is laid down or taken away, one after another. */
  readonly steps: readonly EdgeStep[]
}

export interface EdgeStep {
  readonly lays: boolean
  /** mm from the document's lower left corner, y up; a ring inside another is a hole. They may reach beyond the art. */
  readonly rings: Rings
}

export interface PaintHow {
  /** False: only where something is painted, and how much; the surface then has no planes. */
  readonly colours: boolean
  /** Layers that are no part of the picture, but knock out of it what they lie on: those of inks of their own. */
  readonly knocking: ReadonlySet<string>
}

/** Process colour channels of a mode. */
export function processCount(mode: ColorMode): number {
  switch (mode) {
    case 'RGB':
    case 'Lab':
      return 3
    case 'CMYK':
      return 4
    case 'Bitmap':
    case 'Grayscale':
    case 'Indexed':
    case 'Duotone':
      return 1
    case 'Multichannel':
      return 0
  }
}
