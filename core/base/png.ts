import { decode, encode } from 'fast-png'

/** Samples row by row, components together; 8 bits as bytes, 16 bits as words. */
export interface PngPicture {
  readonly width: number
  readonly height: number
  /** 1 grey, 2 grey + alpha, 3 RGB, 4 RGB + alpha. */
  readonly channels: number
  readonly data: Uint8Array | Uint16Array
}

/** PNG bytes without any statement about colour. */
export function encodePng(picture: PngPicture): Uint8Array {
  const { width, height, channels, data } = picture
  return encode({ width, height, channels, data, depth: data instanceof Uint16Array ? 16 : 8 })
}

/** Samples of a PNG; of a palette they are its numbers, of fewer than 8 bits the packed rows. Throws on damage. */
export function decodePng(bytes: Uint8Array): PngPicture {
  const { width, height, channels, data } = decode(bytes)
  return { width, height, channels, data: data instanceof Uint16Array ? data : Uint8Array.from(data) }
}
