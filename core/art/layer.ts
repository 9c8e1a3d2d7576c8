import type { Finding } from '../base/finding.ts'

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
}

export interface DocumentPath {
  readonly name: string
  readonly clipping: boolean
  readonly paths: readonly OutlinePath[]
}

/** All that a layered file says, without its pixels. Plain data: it can cross a process border. */
export interface Art {
  readonly name: string
  readonly format: 'PSD' | 'PSB'
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
