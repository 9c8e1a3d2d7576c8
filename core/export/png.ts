import { encodePng, type PngPicture } from '../base/png.ts'
import { pngChunk, pngHeaderEnd } from './png-chunk.ts'

/** Colour space of the samples, stated in the file. */
export type PngColor = 'srgb' | 'display-p3'

/**
 * A PNG that says what its numbers mean: an sRGB chunk (perceptual intent) or a cICP chunk (P3 primaries with D65
 * white, sRGB transfer, RGB, full range). The same picture gives the same bytes.
 * Source: PNG third edition, 11.3.2.5 and 11.3.2.6; ITU-T H.273, tables 2–4.
 */
export function writePng(picture: PngPicture, color: PngColor): Uint8Array<ArrayBuffer> {
  const plain = encodePng(picture)
  const said = color === 'srgb' ? pngChunk('sRGB', [0]) : pngChunk('cICP', [12, 13, 0, 1])
  const out = new Uint8Array(plain.length + said.length)
  // Colour chunks must come before the data.
  out.set(plain.subarray(0, pngHeaderEnd))
  out.set(said, pngHeaderEnd)
  out.set(plain.subarray(pngHeaderEnd), pngHeaderEnd + said.length)
  return out
}
