import type { PngPicture } from '../../base/png.ts'
import { decode } from '../../color/rgb.ts'
import type { ViewImage } from '../view-image.ts'

/** Weights of linear red, green and blue in luminance. Rec. ITU-R BT.709-6, item 3.2. */
const weights = [0.2126, 0.7152, 0.0722] as const

/** A picture as a view's light: sRGB values to luminance, over black where it is see-through. */
export function viewFrom(picture: PngPicture): ViewImage {
  const light = luminance(picture, decode)
  return {
    width: picture.width,
    height: picture.height,
    data: Uint8Array.from(light, value => Math.round(255 * value)),
  }
}

/** A picture as heights 0..1: its values as they are, 0 where it is see-through. */
export function heightsFrom(picture: PngPicture): Float32Array {
  return luminance(picture, value => value)
}

function luminance({ width, height, channels, data }: PngPicture, curve: (code: number) => number) {
  const most = data instanceof Uint16Array ? 65535 : 255
  const light = Float32Array.from({ length: most + 1 }, (_, code) => curve(code / most))
  const colors = channels >= 3 ? 3 : 1
  const out = new Float32Array(width * height)
  for (let i = 0; i < out.length; i++) {
    const at = i * channels
    const seen = channels % 2 === 0 ? data[at + channels - 1]! / most : 1
    let sum = 0
    if (colors === 1) sum = light[data[at]!]!
    else for (let c = 0; c < 3; c++) sum += weights[c]! * light[data[at + c]!]!
    out[i] = seen * sum
  }
  return out
}
