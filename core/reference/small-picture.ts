import { checkCancelled, type Task } from '../base/task.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { displayPicture } from './display-picture.ts'
import { type PictureSize, renderTile } from './render.ts'
import type { Scene } from './scene.ts'

/** What a screen shows, sRGB: RGBA, 8 bits, row by row. */
export interface SmallPicture {
  readonly width: number
  readonly height: number
  readonly rgba: Uint8Array<ArrayBuffer>
}

/**
 * The exact picture, whole, for a screen. Throws Cancelled when told to stop, which it hears every few rows.
 * @param pyramid, sets as {@link renderTile} takes them
 */
export function smallPicture(
  scene: Scene,
  pyramid: readonly MaterialMap[],
  sets: readonly Tables[],
  size: PictureSize,
  task?: Task,
): SmallPicture {
  const { width, height } = size
  const shown = { ...scene, view: { ...scene.view, gamut: 'srgb' as const } }
  const rgba = new Uint8Array(4 * width * height).fill(255)
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    task?.progress?.(top / height, 'picture')
    const bottom = Math.min(height, top + stripRows)
    const rgb = displayPicture(renderTile(shown, pyramid, sets, size, { top, bottom }), shown, 8)
    for (let i = 0; i < rgb.length / 3; i++)
      for (let c = 0; c < 3; c++) rgba[4 * (top * width + i) + c] = rgb[3 * i + c]!
  }
  return { width, height, rgba }
}

const stripRows = 16
