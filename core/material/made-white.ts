/** A white that no layer of the file has: it was made of the art. */
export interface MadeWhite {
  readonly name: string
  /** Equal for whites that cover the same. */
  readonly key: string
  /** Coverage of the document's pixels, 0..255, row by row. */
  readonly data: Uint8Array
}
