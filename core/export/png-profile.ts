import { deflate } from '../base/inflate.ts'
import { encodePng, type PngPicture } from '../base/png.ts'
import { pngChunk, pngHeaderEnd } from './png-chunk.ts'

/**
 * A PNG with the ICC profile that its numbers are of, and how many of its pixels a millimetre has. The same picture gives the same bytes.
 * Source: PNG third edition, 11.3.2.3 (iCCP) and 11.3.4.3 (pHYs).
 * @param name of the profile: 1 to 79 characters of Latin 1
 */
export function writeProfiledPng(
  picture: PngPicture,
  name: string,
  icc: Uint8Array,
  pixelsPerMm: number,
): Uint8Array<ArrayBuffer> {
  const plain = encodePng(picture)
  const packed = deflate(icc, 9)
  // Name, its end, and the one way of packing that there is.
  const profile = Uint8Array.of(...[...name].map(letter => letter.charCodeAt(0)), 0, 0, ...packed)
  const size = new DataView(new ArrayBuffer(9))
  for (const at of [0, 4]) size.setUint32(at, Math.round(1000 * pixelsPerMm))
  size.setUint8(8, 1)
  const parts = [
    plain.subarray(0, pngHeaderEnd),
    pngChunk('iCCP', profile),
    pngChunk('pHYs', new Uint8Array(size.buffer)),
    plain.subarray(pngHeaderEnd),
  ]
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}
