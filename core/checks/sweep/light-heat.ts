import type { Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { CheckInput } from '../input.ts'
import { type HeatMap, heatMap } from './heat-map.ts'
import { type Steps, usualGrid, type ViewGrid } from './view-grid.ts'
import { weightsOf } from './view-weights.ts'

/** Wide steps: each is looked over whole, so that no flash is missed between them. */
const tilts: Steps = { fromDeg: -60, count: 13, stepDeg: 10 }
const turns: Steps = { fromDeg: 0, count: 12, stepDeg: 30 }

/** Places along the longer side. */
const usualPlaces = 40

/**
 * How bright every place of the art gets in the hand, flat under the job's lamps where they stand, tilted up to 60° and
 * turned all round; views count by their solid angle.
 * @param levels the map and its coarser levels, finest first
 * @param longest places along the longer side
 * Throws Cancelled when told to stop.
 */
export function lightHeat(
  { scene, map, sets }: Pick<CheckInput, 'scene' | 'map' | 'sets'>,
  levels: readonly MaterialMap[],
  task?: Task,
  longest = usualPlaces,
): HeatMap {
  const columns = Math.max(1, Math.round(longest * Math.min(1, map.width / map.height)))
  // The level of which a pixel is about a place: its matter is that of the whole place.
  const level = levels.findLast(({ width }) => width >= columns) ?? map
  const { solid: _, ...flat } = scene
  const [lamp] = usualGrid(scene).lamps
  const grid: ViewGrid = { lamps: [lamp!], tilts, turns }
  const weights = weightsOf(grid, { kind: 'solid-angle' })
  return heatMap({ scene: flat, map: level, sets, grid, over: 'cell', columns, weights }, task)
}
