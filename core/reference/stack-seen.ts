import type { MaterialMap, Stack } from '../material/map.ts'
import { stackAt } from '../material/sample.ts'
import { crossingOf, type LaidLeaf, layOf } from './overlay-lay.ts'
import { standIn } from './pose.ts'
import type { Scene } from './scene.ts'

/**
 * What the eye's ray to a place of the board meets: the board there, white and inks where the ray crosses their leaves.
 * Where all is one print, the stack of that place.
 * @param xMm, yMm from the panel's lower left corner, on the panel
 * Throws BadInput beside the panel.
 */
export function stackSeen(scene: Scene, map: MaterialMap, xMm: number, yMm: number): Stack {
  const printed = stackAt(map, xMm, yMm)
  const lay = layOf(scene, map)
  if (lay === null) return printed
  const { eye } = standIn(scene)
  const at = (leaf: LaidLeaf): Stack | null => {
    const crossing = crossingOf(leaf, eye, xMm - map.widthMm / 2, yMm - map.heightMm / 2)
    if (!leaf.shown || crossing === null) return null
    const [x, y] = [crossing[0] - leaf.x + map.widthMm / 2, crossing[1] - leaf.y + map.heightMm / 2]
    return x >= 0 && y >= 0 && x <= map.widthMm && y <= map.heightMm ? stackAt(map, x, y) : null
  }
  const white = at(lay.white)
  const inks = at(lay.inks)
  const none = <T extends { readonly coverage: number }>(one: T): T => ({ ...one, coverage: 0 })
  return {
    ...printed,
    ...(lay.board ? {} : { metal: 0, varnish: 0, gratings: [] }),
    whites: white?.whites ?? printed.whites.map(none),
    cmyk: inks?.cmyk ?? [0, 0, 0, 0],
    spots: inks?.spots ?? printed.spots.map(none),
  }
}
