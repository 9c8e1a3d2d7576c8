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

/** Reads 8- and 16-bit PNG; throws on anything else. */
export function decodePng(bytes: Uint8Array): PngPicture {
  const { width, height, channels, data, depth, palette } = decode(bytes)
  if (palette !== undefined || depth < 8)
    throw new RangeError(`PNG: expected 8 or 16 bits without palette, got ${depth} bits`)
  return { width, height, channels, data: data instanceof Uint16Array ? data : Uint8Array.from(data) }
}
