import { checkCancelled, partOf, type Task } from '../../base/task.ts'
import type { BoxMm } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { Group, Motions } from './groups.ts'
import { haloRule } from './halo.ts'
import { type RegionInput, regionsOf } from './regions.ts'
import { registerReport, usualDraws } from './report.ts'
import { type SharedEdges, sharedEdges } from './shared-edges.ts'
import { budgetAt, type Pair, pairs, toleranceOf } from './tolerance.ts'

/** What a hand that moves groups of plates needs to see what shows. */
export interface SlipPicture {
  /** Groups that the job has. */
  readonly groups: readonly Group[]
  readonly pairs: readonly SlipPair[]
}

export interface SlipPair {
  readonly pair: Pair
  /** Edges that the two share, up to {@link slipReachMm} apart. */
  readonly edges: SharedEdges
  /** The slip within tolerance that shows most at one place; null where none shows anything. */
  readonly worst: WorstSlip | null
}

export interface WorstSlip {
  readonly motions: Motions
  readonly box: BoxMm
  /** What then shows at that place. */
  readonly areaMm2: number
  readonly widestMm: number
  /** Part of the draws in which something is wide enough there to be noticed. */
  readonly noticed: number
}

/** How far two edges may lie apart and still be watched, mm. */
export const slipReachMm = 2

/** Throws Cancelled when told to stop. */
export async function slipPicture(
  input: RegionInput & Pick<CheckInput, 'limits'>,
  task?: Task,
): Promise<SlipPicture> {
  const report = await registerReport(input, usualDraws, partOf(task, 0, 0.7))
  const regions = await regionsOf(input, task?.signal ? { signal: task.signal } : {})
  const { map, limits } = input
  const out: SlipPair[] = []
  for (const [i, pair] of pairs.entries()) {
    checkCancelled(task)
    task?.progress?.(0.7 + (0.3 * i) / pairs.length, `edges of ${pair[0]} and ${pair[1]}`)
    const [a, b] = [regions.get(pair[0]), regions.get(pair[1])]
    if (a === undefined || b === undefined) continue
    const hiddenBy = haloRule(pair).hiddenByWhite ? (regions.get('white') ?? null) : null
    const budget = budgetAt(toleranceOf(pair, limits), Math.hypot(map.widthMm, map.heightMm) / 2).worstMm
    const places = report.pairs.find(one => one.pair === pair)?.places ?? []
    const [most] = places.toSorted((one, other) => other.areaMm2 - one.areaMm2)
    out.push({
      pair,
      edges: sharedEdges(a, b, map, Math.max(slipReachMm, budget), hiddenBy),
      worst:
        most === undefined
          ? null
          : {
              motions: most.motions,
              box: most.box,
              areaMm2: most.areaMm2,
              widestMm: Math.max(most.worst.foil, most.worst.white),
              noticed: most.noticed,
            },
    })
  }
  task?.progress?.(1, 'edges')
  return { groups: [...regions.keys()], pairs: out }
}
