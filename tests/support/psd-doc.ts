import type { Box, ColorMode, DocumentPath, OutlinePath } from '../../core/art/layer.ts'
import type { Block, ExtraChannel, PageSize } from './psd-blocks.ts'
import type { Compression, Samples } from './psd-bytes.ts'

export interface PsdDoc {
  readonly width: number
  readonly height: number
  readonly mode: ColorMode
  readonly depth: 8 | 16 | 32
  readonly ppi?: number
  /** Write the large format (PSB). */
  readonly big?: boolean
  /** Of layer channels; RLE when absent. */
  readonly compression?: Compression
  readonly compositeCompression?: 'raw' | 'rle'
  /** Bottom to top. */
  readonly layers?: readonly (PsdLayer | PsdGroup)[]
  /** Process planes of the flattened picture, then a transparency plane if `transparency`. */
  readonly composite: readonly Samples[]
  /** The composite's first extra plane is the document's transparency (negative layer count). */
  readonly transparency?: boolean
  readonly channels?: readonly (ExtraChannel & { readonly data: Samples })[]
  readonly profile?: Uint8Array
  readonly paths?: readonly DocumentPath[]
  /** False: the composite is said to be no real picture. */
  readonly realComposite?: boolean
  /** Colour mode data: palette of indexed files, anything in duotone ones. */
  readonly modeData?: Uint8Array
  /** More image resources, by number. */
  readonly resources?: readonly { readonly id: number; readonly data: Uint8Array }[]
}

interface Shared {
  readonly name: string
  readonly id?: number
  readonly visible?: boolean
  /** 0..1 */
  readonly opacity?: number
  readonly fillOpacity?: number
  /** Four-letter key of the file format, e.g. `mul `. */
  readonly blend?: string
  readonly clipped?: boolean
  readonly mask?: PsdMask
  readonly vectorMask?: {
    readonly paths: readonly OutlinePath[]
    readonly inverted?: boolean
    readonly disabled?: boolean
    readonly startsFull?: boolean
    readonly density?: number
    readonly feather?: number
  }
  /** More layer blocks, as they are. */
  readonly blocks?: readonly Block[]
}

export interface PsdLayer extends Shared {
  readonly box: Box
  /** By channel id: 0.. process, -1 alpha. A function is called when its turn comes, so big files need not be held. */
  readonly planes: Readonly<Record<number, Samples | (() => Samples)>>
}

export interface PsdGroup extends Shared {
  readonly children: readonly (PsdLayer | PsdGroup)[]
  readonly open?: boolean
}

export interface PsdMask {
  readonly box: Box
  readonly data: Samples
  /** 0 or 255 */
  readonly outside?: number
  readonly disabled?: boolean
  readonly inverted?: boolean
  readonly density?: number
  readonly feather?: number
}

/** Size and resolution; 72 ppi where the document names none. */
export function page(doc: PsdDoc): PageSize {
  return { width: doc.width, height: doc.height, ppi: doc.ppi ?? 72 }
}
