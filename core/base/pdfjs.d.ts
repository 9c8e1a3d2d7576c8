/** The part of the reader of pages that glyph-reader.ts uses. */
declare module 'pdfjs-dist/legacy/build/pdf.mjs' {
  export interface Shown {
    readonly fontChar: string
    readonly unicode: string
    readonly originalCharCode: number
    readonly width: number | null
    readonly vmetric?: readonly [number, number, number] | null
    readonly isSpace: boolean
    readonly isInFont: boolean
    readonly accent?: {
      readonly fontChar: string
      readonly offset: { readonly x: number; readonly y: number }
    } | null
  }
  export interface Face {
    readonly loadedName: string
    readonly missingFile?: boolean
    readonly vertical?: boolean
    readonly fontMatrix?: readonly number[] | null
    readonly defaultVMetrics?: readonly [number, number, number] | null
  }
  export interface Objects {
    has(id: string): boolean
    get(id: string): unknown
  }
  export interface Page {
    readonly commonObjs: Objects
    getOperatorList(): Promise<{
      readonly fnArray: readonly number[]
      readonly argsArray: readonly unknown[]
    }>
  }
  export interface Loading {
    readonly promise: Promise<{ getPage(number: number): Promise<Page> }>
    destroy(): Promise<void>
  }
  export const OPS: {
    readonly setFont: number
    readonly setLineWidth: number
    readonly showText: number
  }
  export function getDocument(options: {
    readonly data: Uint8Array
    readonly BinaryDataFactory: new () => {
      fetch(wanted: { readonly kind: string; readonly filename: string }): Promise<Uint8Array>
    }
    readonly disableFontFace: boolean
    readonly fontExtraProperties: boolean
    readonly useSystemFonts: boolean
    readonly useWorkerFetch: boolean
    readonly useWasm: boolean
    readonly isEvalSupported: boolean
    readonly isOffscreenCanvasSupported: boolean
    readonly isImageDecoderSupported: boolean
    readonly enableXfa: boolean
    readonly cMapPacked: boolean
    readonly verbosity: number
  }): Loading
}
declare module 'pdfjs-dist/legacy/build/pdf.worker.mjs' {
  export const WorkerMessageHandler: object
}
