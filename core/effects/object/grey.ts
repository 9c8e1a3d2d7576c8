import type { PngPicture } from '../../base/png.ts'
import { decode } from '../../color/rgb.ts'
import type { ViewImage } from '../view-image.ts'

/** Weights of linear red, green and blue in luminance. Rec. ITU-R BT.709-6, item 3.2. */
const weights = [0.2126, 0.7152, 0.0722] as const

/** Longest side that is kept, pixels: on 50 mm of a carton finer than a view can show. Larger pictures are averaged. */
export const longestView = 1024
export const longestHeights = 4096

/** A picture as a view's light: sRGB values to luminance, over black where it is see-through. */
export function viewFrom(picture: PngPicture): ViewImage {
  const { width, height, data } = shrunk(picture, longestView, decode)
  return { width, height, data: Uint8Array.from(data, value => Math.round(255 * value)) }
}

/** A picture as heights: its values as they are, 0 where it is see-through. */
export function heightsFrom(picture: PngPicture): ViewImage {
  const { width, height, data } = shrunk(picture, longestHeights, value => value)
  return { width, height, data: Uint16Array.from(data, value => Math.round(65535 * value)) }
}

/** Means over whole blocks of pixels, as many as bring the longest side down to `longest`. */
function shrunk(
  { width, height, channels, data }: PngPicture,
  longest: number,
  curve: (code: number) => number,
) {
  const block = Math.ceil(Math.max(width, height) / longest)
  const [wide, high] = [Math.ceil(width / block), Math.ceil(height / block)]
  const read = reader(channels, data, curve)
  const out = new Float64Array(wide * high)
  for (let y = 0; y < high; y++)
    for (let x = 0; x < wide; x++) {
      const [right, bottom] = [Math.min(width, (x + 1) * block), Math.min(height, (y + 1) * block)]
      let sum = 0
      for (let j = y * block; j < bottom; j++)
        for (let i = x * block; i < right; i++) sum += read(j * width + i)
      out[y * wide + x] = sum / ((right - x * block) * (bottom - y * block))
    }
  return { width: wide, height: high, data: out }
}

/** Luminance 0..1 of a pixel times how far it is opaque. */
function reader(
  channels: number,
  data: PngPicture['data'],
  curve: (code: number) => number,
): (i: number) => number {
  const most = data instanceof Uint16Array ? 65535 : 255
  const light = Float64Array.from({ length: most + 1 }, (_, code) => curve(code / most))
  return i => {
    const at = i * channels
    const seen = channels % 2 === 0 ? data[at + channels - 1]! / most : 1
    if (channels < 3) return seen * light[data[at]!]!
    const [r, g, b] = [light[data[at]!]!, light[data[at + 1]!]!, light[data[at + 2]!]!]
    return seen * (weights[0] * r + weights[1] * g + weights[2] * b)
  }
}
