import { decode } from '../color/rgb.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { displayPicture } from './display-picture.ts'
import { flashHeight, flashWidth } from './flash.ts'
import { renderTile } from './render.ts'
import type { Scene } from './scene.ts'

/** The picture that is judged. */
export const flashSize = { width: flashWidth, height: flashHeight, grid: 1 } as const

/** The scene as it is judged: as a screen of sRGB shows it. */
export const flashScene = (scene: Scene): Scene => ({ ...scene, view: { ...scene.view, gamut: 'srgb' } })

/**
 * What the screen shows of a scene, small: linear sRGB, 0..1, three a place, as `FlashMeter` takes it. The panel fills
 * the picture as it does when nobody has zoomed in.
 */
export function flashPicture(
  scene: Scene,
  levels: readonly MaterialMap[],
  sets: readonly Tables[],
): Float32Array {
  const light = renderTile(scene, levels, sets, flashSize, { top: 0, bottom: flashHeight })
  return flashLight(displayPicture(light, flashScene(scene), 8))
}

/** Codes of 8 bits that a screen of sRGB is given, as `FlashMeter` takes them. */
export function flashLight(codes: ArrayLike<number>): Float32Array {
  return Float32Array.from(codes, code => linear[code]!)
}

const linear = Float32Array.from({ length: 256 }, (_, code) => decode(code / 255))
