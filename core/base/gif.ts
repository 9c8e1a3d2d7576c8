import { applyPalette, GIFEncoder, quantize } from 'gifenc'
import type { PngPicture } from './png.ts'

export interface GifFrame {
  /** RGB or RGBA of 8 bits; a pixel is clear where its alpha is below a half, as GIF knows no more. */
  readonly picture: PngPicture
  /** Which frame of the animation, from 0. */
  readonly index: number
  /** Frames a second, 1 to 50. */
  readonly rate: number
  /** Goes on for ever; else it is played once. */
  readonly loops: boolean
}

/**
 * One frame of a GIF with a palette of its own, at most 256 colours. The frames in their order, then {@link gifEnd},
 * are the file. Times of frames are rounded so that they do not drift: 24 a second show for 0.04 or 0.05 s.
 */
export function gifFrame({ picture, index, rate, loops }: GifFrame): Uint8Array<ArrayBuffer> {
  const { width, height } = picture
  const { rgba, clear } = asRgba(picture)
  const opaque = clear === null ? rgba : withoutClear(rgba, clear)
  const palette =
    opaque.length === 0 ? [[0, 0, 0]] : quantize(opaque, clear === null ? 256 : 255, { format: 'rgb565' })
  const pixels = applyPalette(rgba, palette, 'rgb565')
  const clearIndex = palette.length
  if (clear !== null) {
    palette.push([0, 0, 0])
    for (let i = 0; i < pixels.length; i++) if (clear[i] === 1) pixels[i] = clearIndex
  }
  const encoder = GIFEncoder({ auto: false })
  if (index === 0) encoder.writeHeader()
  encoder.writeFrame(pixels, width, height, {
    first: index === 0,
    palette,
    repeat: loops ? 0 : -1,
    delay: 10 * (hundredths(index + 1, rate) - hundredths(index, rate)),
    ...(clear === null ? {} : { transparent: true, transparentIndex: clearIndex }),
  })
  return encoder.bytes()
}

/** Last byte of a GIF. Source: GIF89a, 27. */
export const gifEnd = Uint8Array.of(0x3b)

const hundredths = (frame: number, rate: number): number => Math.round((100 * frame) / rate)

function asRgba({ width, height, channels, data }: PngPicture): {
  readonly rgba: Uint8Array
  /** 1 where nothing is; null for a picture without alpha. */
  readonly clear: Uint8Array | null
} {
  const rgba = new Uint8Array(width * height * 4)
  const clear = channels === 4 ? new Uint8Array(width * height) : null
  for (let i = 0; i < width * height; i++) {
    for (let c = 0; c < 3; c++) rgba[4 * i + c] = data[channels * i + c]!
    rgba[4 * i + 3] = 255
    if (clear !== null && data[4 * i + 3]! < 128) clear[i] = 1
  }
  return { rgba, clear }
}

function withoutClear(rgba: Uint8Array, clear: Uint8Array): Uint8Array {
  const out = new Uint8Array(rgba.length)
  let kept = 0
  for (let i = 0; i < clear.length; i++) {
    if (clear[i] === 1) continue
    out.set(rgba.subarray(4 * i, 4 * i + 4), 4 * kept)
    kept++
  }
  return out.slice(0, 4 * kept)
}
