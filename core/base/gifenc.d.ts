/** The part of the GIF writer that gif.ts uses. */
declare module 'gifenc' {
  type Color = readonly number[]
  interface Encoder {
    writeHeader(): void
    writeFrame(
      index: Uint8Array,
      width: number,
      height: number,
      options: {
        readonly first?: boolean
        readonly palette: readonly Color[]
        /** ms; rounded to hundredths of a second. */
        readonly delay: number
        /** -1: once, 0: for ever. */
        readonly repeat?: number
        readonly transparent?: boolean
        readonly transparentIndex?: number
      },
    ): void
    bytes(): Uint8Array<ArrayBuffer>
  }
  export function GIFEncoder(options: { readonly auto: boolean }): Encoder
  export function quantize(rgba: Uint8Array, colors: number, options: { readonly format: 'rgb565' }): Color[]
  export function applyPalette(rgba: Uint8Array, palette: readonly Color[], format: 'rgb565'): Uint8Array
}
