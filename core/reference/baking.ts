import type { MaterialMap } from '../material/map.ts'
import type { Baking } from '../optics/bake.ts'
import { defaultBoard, type IlluminantName } from '../optics/scene.ts'
import type { Scene } from './scene.ts'

/**
 * What a picture's tables are made for. Lamp, pose and view are not part of it: tables stay good while those move.
 * @param illuminant of the lamp that the tables are for
 */
export function bakingOf(
  { board }: Pick<Scene, 'board'>,
  illuminant: IlluminantName,
  map: Pick<MaterialMap, 'whites' | 'spots' | 'grooves'>,
): Baking {
  return {
    illuminant,
    board: {
      ...defaultBoard,
      waviness: board.wavinessMrad / 1000,
      glossRoughness: board.glossRoughness,
      cell: board.cellUm,
      lacquerIndex: board.coatIndex,
    },
    grooves: map.grooves,
    whites: map.whites,
    spots: map.spots.map(spot => spot.lab),
  }
}
