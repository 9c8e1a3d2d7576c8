import { fromBase64 } from '../../base/base64.ts'
import { decodeJpeg, jpegHead, jpegMemory } from '../../base/jpeg.ts'
import { readWholePng } from '../../base/png-read.ts'
import type { InkField } from '../ink/mark.ts'
import { inverse } from '../ink/matrix.ts'
import type { Matrix } from '../path.ts'
import type { Rgba } from './colour.ts'

/** A picture inside a drawing, unpacked: red, green, blue and opacity of each pixel, row by row from the top. */
export interface HeldImage {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

const mostPixels = 64e6

/**
 * The picture that a `data:` address holds, as PNG or JPEG.
 * @returns why it cannot be read, in a few words, where it cannot
 */
export async function heldImage(address: string): Promise<HeldImage | string> {
  const match = /^data:([^,;]*)(?:;[^,]*)?(;base64)?,/i.exec(address.slice(0, 400))
  if (match === null) return 'its address is no data'
  let bytes: Uint8Array
  try {
    bytes = fromBase64(address.slice(match[0].length).replace(/\s+/g, ''))
  } catch {
    return 'its data is no base64'
  }
  try {
    if (bytes[0] === 0x89) return await fromPng(bytes)
    if (bytes[0] === 0xff) return fromJpeg(bytes)
    return `it is ${match[1] || 'of an unknown kind'}, neither PNG nor JPEG`
  } catch (reason) {
    return reason instanceof Error ? reason.message : String(reason)
  }
}

async function fromPng(bytes: Uint8Array): Promise<HeldImage> {
  const png = await readWholePng(bytes, 'the picture', { side: 65_535, pixels: mostPixels })
  const { width, height, channels, bits, palette, clear } = png
  const most = 2 ** bits - 1
  const out = new Uint8Array(4 * width * height)
  for (let i = 0; i < width * height; i++) {
    const at = i * channels
    const sample = (c: number) => (255 * png.data[at + c]!) / most
    if (palette !== null) {
      const index = png.data[i]!
      for (let c = 0; c < 3; c++) out[4 * i + c] = palette[3 * index + c] ?? 0
      out[4 * i + 3] = clear?.[index] ?? 255
      continue
    }
    const grey = channels < 3
    for (let c = 0; c < 3; c++) out[4 * i + c] = Math.round(sample(grey ? 0 : c))
    const isClear = clear?.every((value, c) => png.data[at + c] === value) ?? false
    out[4 * i + 3] = channels % 2 === 0 ? Math.round(sample(channels - 1)) : isClear ? 0 : 255
  }
  return { width, height, data: out }
}

function fromJpeg(bytes: Uint8Array): HeldImage {
  const head = jpegHead(bytes)
  if (jpegMemory(head) > 4 * 4 * mostPixels) throw new Error('it has too many pixels')
  if (head.components === 4) throw new Error('it is a CMYK picture, which an SVG cannot show')
  const { width, height, components, data } = decodeJpeg(bytes)
  const out = new Uint8Array(4 * width * height).fill(255)
  for (let i = 0; i < width * height; i++)
    for (let c = 0; c < 3; c++) out[4 * i + c] = data[i * components + (components === 3 ? c : 0)]!
  return { width, height, data: out }
}

/** Samples across and down a square of the page, at most: finer pictures are read at places of it. */
const mostTaps = 8

/**
 * A picture on the unit square (its top at 0) that the matrix takes to the page.
 * @param smooth  between its pixels its colours go over into each other
 */
export function imageField(
  { width, height, data }: HeldImage,
  matrix: Matrix,
  inks: readonly number[],
  tints: (colour: Rgba) => readonly number[],
  smooth: boolean,
): InkField | null {
  const back = inverse(matrix)
  if (back === null) return null
  const [a, b, c, d, e, f] = back
  const pixel = (x: number, y: number): number =>
    4 * (Math.min(height - 1, Math.max(0, y)) * width + Math.min(width - 1, Math.max(0, x)))
  return {
    inks,
    row(x, y, step, count, out, shape) {
      const scale = step * Math.max(Math.hypot(a * width, b * height), Math.hypot(c * width, d * height))
      const taps = Math.min(mostTaps, Math.max(1, Math.ceil(scale)))
      for (let i = 0; i < count; i++) {
        // Colours are summed with their opacity, as light that comes through.
        let [red, green, blue, alpha] = [0, 0, 0, 0]
        const take = (at: number, weight: number) => {
          const share = (weight * data[at + 3]!) / 255
          red += share * data[at]!
          green += share * data[at + 1]!
          blue += share * data[at + 2]!
          alpha += share
        }
        for (let ty = 0; ty < taps; ty++)
          for (let tx = 0; tx < taps; tx++) {
            const px = x + step * (i + (tx + 0.5) / taps - 0.5)
            const py = y + step * ((ty + 0.5) / taps - 0.5)
            const u = (a * px + c * py + e) * width
            const v = (b * px + d * py + f) * height
            if (smooth && taps === 1) {
              const [left, top] = [Math.floor(u - 0.5), Math.floor(v - 0.5)]
              const [sx, sy] = [u - 0.5 - left, v - 0.5 - top]
              take(pixel(left, top), (1 - sx) * (1 - sy))
              take(pixel(left + 1, top), sx * (1 - sy))
              take(pixel(left, top + 1), (1 - sx) * sy)
              take(pixel(left + 1, top + 1), sx * sy)
            } else take(pixel(Math.floor(u), Math.floor(v)), 1 / (taps * taps))
          }
        shape[i] = alpha
        const values =
          alpha > 0 ? tints([red / alpha / 255, green / alpha / 255, blue / alpha / 255, 1]) : null
        for (let k = 0; k < inks.length; k++) out[k]![i] = values?.[k] ?? 0
      }
    },
  }
}
