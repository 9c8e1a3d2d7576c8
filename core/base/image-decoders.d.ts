declare module 'pdfjs-dist/image_decoders/pdf.image_decoders.mjs' {
  /** JPEG, baseline and progressive, 8 bits (12 are scaled). */
  export class JpegImage {
    constructor(options?: { decodeTransform?: Int32Array | null; colorTransform?: -1 | 0 | 1 })
    readonly width: number
    readonly height: number
    readonly numComponents: number
    parse(data: Uint8Array): void
    getData(wish: { width: number; height: number; isSourcePDF: boolean }): Uint8ClampedArray<ArrayBuffer>
  }
  export function setVerbosityLevel(level: number): void
}
