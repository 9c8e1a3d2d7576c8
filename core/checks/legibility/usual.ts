import type { Scene } from '../../reference/scene.ts'
import type { CheckInput } from '../input.ts'
import { applied, type OwnLimits } from '../limits.ts'
import { sceneUnder, usualGrid, type ViewGrid, viewsOf } from '../sweep/view-grid.ts'
import { readingHand, type Weighting, weightsOf } from '../sweep/view-weights.ts'
import { legibilityLimits } from './limits.ts'
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
  const grid = usualGrid(scene)
  return {
    views: heldViews(scene, grid),
    weights: limits => weightsOf(grid, weightingOf(limits)),
    luminances: shadedLuminances(scene, map, sets),
    marked: marked.filter(({ kind }) => kind === 'text'),
  }
}

/** How views count in a job: alike, or as often as a hand holds the pack so. */
function weightingOf(limits: OwnLimits): Weighting {
  const spread = applied('legibility.hand', legibilityLimits['legibility.hand'], limits).value
  const turnSpreadDeg = (readingHand.turnSpreadDeg / readingHand.tiltSpreadDeg) * spread
  return spread === 0 ? { kind: 'solid-angle' } : { ...readingHand, tiltSpreadDeg: spread, turnSpreadDeg }
}

export const legibility = legibilityPart(usualNeeds)
