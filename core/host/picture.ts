/** RGBA, 8 bits, row by row. */
export interface Picture {
  readonly width: number
  readonly height: number
  readonly rgba: Uint8Array
}
