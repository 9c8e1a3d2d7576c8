import { encodePng, type PngPicture } from '../base/png.ts'

/** Colour space of the samples, stated in the file. */
export type PngColor = 'srgb' | 'display-p3'

/**
 * A PNG that says what its numbers mean: an sRGB chunk (perceptual intent) or a cICP chunk (P3 primaries with D65
 * white, sRGB transfer, RGB, full range). Source: PNG third edition, 11.3.2.5 and 11.3.2.6; ITU-T H.273, tables 2–4.
 */
export function writePng(picture: PngPicture, color: PngColor): Uint8Array {
  const plain = encodePng(picture)
  const said = color === 'srgb' ? chunk('sRGB', [0]) : chunk('cICP', [12, 13, 0, 1])
  const out = new Uint8Array(plain.length + said.length)
  out.set(plain.subarray(0, headerEnd))
  out.set(said, headerEnd)
  out.set(plain.subarray(headerEnd), headerEnd + said.length)
  return out
}

/** Signature and header chunk; colour chunks must come before the data. */
const headerEnd = 8 + 25

function chunk(name: string, body: readonly number[]): Uint8Array {
  const out = new Uint8Array(12 + body.length)
  const view = new DataView(out.buffer)
  view.setUint32(0, body.length)
  for (let i = 0; i < 4; i++) out[4 + i] = name.charCodeAt(i)
  out.set(body, 8)
  view.setUint32(8 + body.length, crc32(out.subarray(4, 8 + body.length)))
  return out
}

/** CRC-32 of PNG, annex D. Bit by bit: it only sees a dozen bytes. */
function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff
  for (const byte of bytes) {
    c ^= byte
    for (let k = 0; k < 8; k++) c = c & 1 ? (c >>> 1) ^ 0xedb88320 : c >>> 1
  }
  return (c ^ 0xffffffff) >>> 0
}
