import { checkCancelled, type Task } from '../base/task.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { type PictureSize, renderTile } from './render.ts'
import type { Scene } from './scene.ts'

/** Rows between two looks whether to stop. */
const stripRows = 16

/**
 * The exact picture, whole: X, Y, Z, met a pixel, as {@link renderTile} gives them. Throws Cancelled when told to stop.
 * @param pyramid, sets as {@link renderTile} takes them
 */
export function wholeLight(
  scene: Scene,
  pyramid: readonly MaterialMap[],
  sets: readonly Tables[],
  size: PictureSize,
  task?: Task,
): Float32Array {
  const { width, height } = size
  const light = new Float32Array(4 * width * height)
  for (let top = 0; top < height; top += stripRows) {
    checkCancelled(task)
    task?.progress?.(top / height, 'picture')
    const bottom = Math.min(height, top + stripRows)
    light.set(renderTile(scene, pyramid, sets, size, { top, bottom }), 4 * width * top)
  }
  return light
}
