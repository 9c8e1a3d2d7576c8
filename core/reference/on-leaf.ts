import { standIn } from './pose.ts'
import type { Scene } from './scene.ts'
import { onLeaf } from './solid.ts'

interface Size {
  readonly widthMm: number
  readonly heightMm: number
}

/**
 * The scene as one leaf has it: the one that shows this place of the art, of several the first whose print side the eye
 * sees. The same scene where the panel lies flat; null where no leaf shows the place.
 * @param xMm, yMm from the art's lower left corner
 */
export function sceneOnLeaf(scene: Scene, art: Size, xMm: number, yMm: number): Scene | null {
  const { solid, ...flat } = scene
  if (solid === undefined) return scene
  const [x, y] = [xMm - art.widthMm / 2, yMm - art.heightMm / 2]
  const scenes = solid.leaves.filter(leaf => onLeaf(leaf, x, y)).map((leaf): Scene => ({ ...flat, leaf }))
  return scenes.find(one => standIn(one).eye[2] > 0) ?? scenes[0] ?? null
}
