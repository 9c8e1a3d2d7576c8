import { pngChunk, pngChunks, pngHeaderEnd } from './png-chunk.ts'

export interface Animation {
  readonly width: number
  readonly height: number
  readonly frames: number
  /** Frames a second, a whole number up to 65535. */
  readonly rate: number
  /** Goes on for ever; else it is played once and stays at its last frame. */
  readonly loops: boolean
}

/**
 * Joins whole PNGs of one size, depth and kind into an animated PNG, piece by piece: what {@link add} returns is written
 * in that order, {@link end} last. Its first frame is the picture that a reader without animation shows.
 * Source: PNG third edition, 11.3.6 (acTL, fcTL, fdAT).
 */
export class ApngStream {
  readonly #animation: Animation
  #sequence = 0
  #frames = 0

  constructor(animation: Animation) {
    this.#animation = animation
  }

  /** @param png the next frame, as `writePng` makes it */
  add(png: Uint8Array): Uint8Array<ArrayBuffer> {
    const { frames, loops } = this.#animation
    const first = this.#frames++ === 0
    if (this.#frames > frames) throw new RangeError(`animation: expected ${frames} frames, got one more`)
    const parts = pngChunks(png)
    const pieces: Uint8Array[] = []
    if (first) {
      pieces.push(png.subarray(0, pngHeaderEnd), pngChunk('acTL', words(frames, loops ? 0 : 1)))
      for (const { name, body } of parts)
        if (name !== 'IHDR' && name !== 'IDAT' && name !== 'IEND') pieces.push(pngChunk(name, body))
    }
    pieces.push(this.#control())
    for (const { name, body } of parts)
      if (name === 'IDAT') pieces.push(first ? pngChunk('IDAT', body) : this.#data(body))
    return joined(pieces)
  }

  end(): Uint8Array<ArrayBuffer> {
    const { frames } = this.#animation
    if (this.#frames < frames)
      throw new RangeError(`animation: expected ${frames} frames, got ${this.#frames}`)
    return pngChunk('IEND', [])
  }

  /** Every frame covers the whole picture, takes the place of the last (disposal none, blending by source) and shows for 1 / rate s. */
  #control(): Uint8Array {
    const { width, height, rate } = this.#animation
    return pngChunk('fcTL', [
      ...words(this.#sequence++, width, height, 0, 0),
      0,
      1,
      rate >> 8,
      rate & 255,
      0,
      0,
    ])
  }

  #data(packed: Uint8Array): Uint8Array {
    const body = new Uint8Array(4 + packed.length)
    body.set(words(this.#sequence++))
    body.set(packed, 4)
    return pngChunk('fdAT', body)
  }
}

/** Numbers as four bytes each, the highest first. */
const words = (...numbers: readonly number[]): readonly number[] =>
  numbers.flatMap(n => [(n >>> 24) & 255, (n >>> 16) & 255, (n >>> 8) & 255, n & 255])

function joined(pieces: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0))
  let at = 0
  for (const piece of pieces) {
    out.set(piece, at)
    at += piece.length
  }
  return out
}
