import type { Picture } from '../../../core/host/picture.ts'

/** Which parts of a layer send light: the words of the effects' own choice. */
export type Shines = 'painted' | 'light' | 'dark'

/** Looks taken once: a picture does not change. */
const known = new WeakMap<Picture, Map<Shines, Picture>>()

/** A layer's picture as the light it sends: grey, as opaque as it is painted. */
export function asLight(picture: Picture, shines: Shines): Picture {
  const looks = known.get(picture) ?? new Map<Shines, Picture>()
  known.set(picture, looks)
  const seen = looks.get(shines)
  if (seen !== undefined) return seen
  const rgba = picture.rgba.slice()
  for (let i = 0; i < rgba.length; i += 4) {
    const lightness = 0.2126 * (rgba[i] ?? 0) + 0.7152 * (rgba[i + 1] ?? 0) + 0.0722 * (rgba[i + 2] ?? 0)
    rgba.fill(shines === 'painted' ? 255 : shines === 'light' ? lightness : 255 - lightness, i, i + 3)
  }
  const light = { ...picture, rgba }
  looks.set(shines, light)
  return light
}

/** Left, top, right and bottom of what is painted, as parts of the picture; the whole where nothing is. */
export function paintedPart({ width, height, rgba }: Picture): readonly [number, number, number, number] {
  let [left, top, right, bottom] = [width, height, 0, 0]
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      if ((rgba[4 * (y * width + x) + 3] ?? 0) <= faint) continue
      left = Math.min(left, x)
      right = Math.max(right, x + 1)
      top = Math.min(top, y)
      bottom = Math.max(bottom, y + 1)
    }
  return right === 0 ? [0, 0, 1, 1] : [left / width, top / height, right / width, bottom / height]
}

const faint = 12

const drawn = new WeakMap<Picture, OffscreenCanvas>()

/** A picture ready to be drawn; made once. */
export function toCanvas(picture: Picture): OffscreenCanvas {
  const ready = drawn.get(picture)
  if (ready !== undefined) return ready
  const canvas = new OffscreenCanvas(picture.width, picture.height)
  const image = new ImageData(new Uint8ClampedArray(picture.rgba), picture.width, picture.height)
  canvas.getContext('2d')?.putImageData(image, 0, 0)
  drawn.set(picture, canvas)
  return canvas
}
