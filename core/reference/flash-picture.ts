import { decode } from '../color/rgb.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { displayPicture } from './display-picture.ts'
import { flashHeight, flashWidth } from './flash.ts'
import { renderTile } from './render.ts'
import type { Scene } from './scene.ts'

/**
 * What the screen shows of a scene, small: linear sRGB, 0..1, three a place, as `FlashMeter` takes it. The panel fills
 * the picture as it does when nobody has zoomed in.
 */
export function flashPicture(
  scene: Scene,
  levels: readonly MaterialMap[],
  sets: readonly Tables[],
): Float32Array {
  const size = { width: flashWidth, height: flashHeight, grid: 1 }
  const light = renderTile(scene, levels, sets, size, { top: 0, bottom: flashHeight })
  const shown = displayPicture(light, { ...scene, view: { ...scene.view, gamut: 'srgb' } }, 8)
  return Float32Array.from(shown, code => linear[code]!)
}

const linear = Float32Array.from({ length: 256 }, (_, code) => decode(code / 255))
