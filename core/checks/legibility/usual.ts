import type { Scene } from '../../reference/scene.ts'
import type { CheckInput } from '../input.ts'
import { sceneUnder, usualGrid, type ViewGrid, viewsOf } from '../sweep/view-grid.ts'
import { weightsOf } from '../sweep/view-weights.ts'
import { type LegibilityNeeds, legibilityPart } from './part.ts'
import { shadedLuminances } from './shaded.ts'
import type { HeldView } from './view.ts'

/** The views of a grid, every direction of the panel counting alike. Throws BadInput for a bad grid. */
export function heldViews(scene: Scene, grid: ViewGrid): readonly HeldView[] {
  const lights = grid.lamps.map(lamp => sceneUnder(scene, lamp).light)
  const weights = weightsOf(grid, { kind: 'solid-angle' })
  return viewsOf(grid).map(
    ({ pose, lamp }, i): HeldView => ({
      pose,
      light: lights[lamp]!,
      weight: weights[i]!,
      under: grid.lamps[lamp]!.name,
    }),
  )
}

/** What a job is judged by: the usual views, the exact picture's light, the areas marked as text. */
export function usualNeeds(input: CheckInput): LegibilityNeeds {
  const { scene, map, sets, marked = [] } = input
  return {
    views: heldViews(scene, usualGrid(scene)),
    luminances: shadedLuminances(scene, map, sets),
    marked: marked.filter(({ kind }) => kind === 'text'),
  }
}

export const legibility = legibilityPart(usualNeeds)
