import type { MaterialMap } from '../material/map.ts'
import type { Baking } from '../optics/bake.ts'
import { defaultBoard } from '../optics/scene.ts'
import type { Scene } from './scene.ts'

/**
 * What a picture's tables are made for. Lamp, pose and view are not part of it: tables stay good while those move.
 */
export function bakingOf(
  { board, light }: { readonly board: Scene['board']; readonly light: Pick<Scene['light'], 'illuminant'> },
  map: Pick<MaterialMap, 'whites' | 'spots'>,
): Baking {
  return {
    illuminant: light.illuminant,
    board: {
      ...defaultBoard,
      waviness: board.wavinessMrad / 1000,
      glossRoughness: board.glossRoughness,
      cell: board.cellUm,
    },
    whites: map.whites,
    spots: map.spots.map(spot => spot.lab),
  }
}
