declare module 'pdfjs-dist/legacy/image_decoders/pdf.image_decoders.mjs' {
  /** JPEG, baseline and progressive, 8 bits (12 are scaled). */
  export class JpegImage {
    readonly width: number
    readonly height: number
    readonly numComponents: number
    /** In squares of 8 × 8; `index` is the component's number in the file. */
    readonly components: readonly {
      readonly index: number
      readonly output: Int16Array
      readonly scaleX: number
      readonly scaleY: number
      readonly blocksPerLine: number
    }[]
    parse(data: Uint8Array): void
  }
  export function setVerbosityLevel(level: number): void
  export const JpxImage: {
    setOptions(options: {
      readonly useWasm: boolean
      readonly useWorkerFetch: boolean
      readonly wasmUrl: string | null
      readonly handler: { sendWithPromise(action: string, what: object): Promise<Uint8Array> }
    }): void
    decode(
      bytes: Uint8Array,
      options: {
        readonly numComponents: number
        readonly isIndexedColormap: boolean
        readonly smaskInData: boolean
        readonly reducePower: number
      },
    ): Promise<Uint8ClampedArray>
    /** The program is started again by the next picture. */
    cleanup(): void
    parseImageProperties(bytes: Uint8Array): {
      readonly width: number
      readonly height: number
      readonly componentsCount: number
    }
  }
}
