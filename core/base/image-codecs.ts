import { type FaxCodecs, type FaxCoding, openFaxCodecs } from './fax-codecs.ts'
import { type DecodedPicture, openJpx } from './jpx.ts'

/** Decoders of pictures whose programs come from outside. Each throws Error for data that are none of its kind. */
export interface ImageCodecs {
  /** JPEG 2000 (ISO/IEC 15444-1). Samples are spread over 8 bits, but those of `indexed` pictures stay as they are. */
  readonly jpx: (bytes: Uint8Array, indexed: boolean) => Promise<DecodedPicture>
  /** JBIG2 (ISO/IEC 14492) as PDF has it: packed rows, 0 is black. `globals`: segments that several pictures share. */
  readonly jbig2: (
    bytes: Uint8Array,
    globals: Uint8Array | null,
    width: number,
    height: number,
  ) => Promise<Uint8Array>
  /** CCITT (ITU-T T.4, T.6): packed rows of `columns`, as many as the data have, at most `height`. */
  readonly fax: (bytes: Uint8Array, height: number, coding: FaxCoding) => Promise<Uint8Array>
}

/**
 * Nothing is started before it is needed.
 * @param program bytes of `openjpeg.wasm` and `jbig2.wasm` of the package pdfjs-dist, by those names
 */
export function openImageCodecs(program: (name: string) => Promise<Uint8Array>): ImageCodecs {
  let started: Promise<FaxCodecs> | null = null
  const faxes = () => {
    started ??= program('jbig2.wasm').then(openFaxCodecs)
    return started
  }
  return {
    jpx: openJpx(() => program('openjpeg.wasm')),
    jbig2: async (...given) => (await faxes()).jbig2(...given),
    fax: async (...given) => (await faxes()).fax(...given),
  }
}
