/** The part of the picture decoders that jpx.ts uses. */
declare module 'pdfjs-dist/legacy/image_decoders/pdf.image_decoders.mjs' {
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
    parseImageProperties(bytes: Uint8Array): {
      readonly width: number
      readonly height: number
      readonly componentsCount: number
    }
  }
}
