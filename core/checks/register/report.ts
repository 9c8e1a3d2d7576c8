import { checkCancelled, type Task } from '../../base/task.ts'
import type { CheckInput } from '../input.ts'
import { kept } from '../keeper.ts'
import { type Cluster, clustersOf } from './clusters.ts'
import { drawSlips, drawsOf, quantile, type Slip, slipAt } from './draws.ts'
import { asDrawn, type Group, type Motions } from './groups.ts'
import { type Halo, haloRule, stripWidth } from './halo.ts'
import { edgesOf, type RegionInput, type Regions, unpacked } from './regions.ts'
import { type SharedEdges, sharedEdges } from './shared-edges.ts'
import { type Slivers, sliversOf } from './slivers.ts'
import {
  type Budget,
  budgetAt,
  type Pair,
  type PairTolerance,
  pairs,
  registerLimit,
  toleranceOf,
} from './tolerance.ts'

/** One place where a pair can show what was not drawn. */
export interface RegisterPlace extends Cluster {
  /** Width that 95 of 100 draws do not exceed, mm. */
  readonly usualMm: number
  /** Part of the draws in which it is wide enough to be noticed. */
  readonly noticed: number
  /** The slip that opens most there, all of the tolerance in one direction, as motions of the pair's second group. */
  readonly motions: Motions
  /** What then shows there, mm²; corners count for both of their edges. `sliversAt` has outlines and exact areas. */
  readonly areaMm2: number
}

export interface PairReport {
  readonly pair: Pair
  readonly tolerance: PairTolerance
  /** Furthest from the middle. */
  readonly budget: Budget
  /** Mm² over the whole art that 50 and 95 of 100 draws do not exceed, and at most; corners count for both edges. */
  readonly areas: Readonly<
    Record<Halo, { readonly median: number; readonly usual: number; readonly most: number }>
  >
  readonly places: readonly RegisterPlace[]
}

export interface RegisterReport {
  readonly draws: number
  readonly seed: number
  readonly regions: Regions
  readonly pairs: readonly PairReport[]
}

export interface RegisterOptions {
  readonly draws: number
  /** The same seed gives the same draws. */
  readonly seed: number
}
export const usualDraws: RegisterOptions = { draws: 1000, seed: 1 }

/** Everything that can show between groups of the job, at worst and by chance. Throws Cancelled when told to stop. */
export async function registerReport(
  input: RegionInput & Pick<CheckInput, 'limits'>,
  options: RegisterOptions = usualDraws,
  task?: Task,
): Promise<RegisterReport> {
  task?.progress?.(0, 'following the edges of white, colours and holography')
  const edges = await edgesOf(input, task)
  const regions = unpacked(edges)
  const { widthMm, heightMm } = input.map
  const out: PairReport[] = []
  for (const [i, pair] of pairs.entries()) {
    checkCancelled(task)
    task?.progress?.(0.5 + i / (2 * pairs.length), `slipping ${pair[0]} and ${pair[1]}`)
    if (!regions.has(pair[0]) || !regions.has(pair[1])) continue
    const rings = [...pair, 'white'].map(group => edges.get(group as Group))
    const keys = [...rings, options.draws, options.seed, widthMm, heightMm]
    out.push(
      await kept(input, `register, ${pair.join(' ')}`, keys, own =>
        pairReport(regions, pair, { widthMm, heightMm }, own, options, i, task),
      ),
    )
  }
  task?.progress?.(1, 'slipping the groups')
  return { ...options, regions, pairs: out }
}

/** Outlines and exact areas of what shows at a place when the pair is slipped as it opens most there. */
export const sliversAt = (
  regions: Regions,
  pair: Pair,
  { box, motions, neededMm }: RegisterPlace,
  { widthMm, heightMm }: Pick<CheckInput['map'], 'widthMm' | 'heightMm'>,
): readonly Slivers[] =>
  sliversOf(regions, pair, motions, [widthMm / 2, heightMm / 2], grownBox(box, neededMm))

function pairReport(
  regions: Regions,
  pair: Pair,
  frame: { readonly widthMm: number; readonly heightMm: number },
  { limits }: Pick<CheckInput, 'limits'>,
  { draws: count, seed }: RegisterOptions,
  number: number,
  task: Task | undefined,
): PairReport {
  const about = [frame.widthMm / 2, frame.heightMm / 2] as const
  const tolerance = toleranceOf(pair, limits)
  const budget = budgetAt(tolerance, Math.hypot(...about))
  const visible = registerLimit('register.visible', limits).value
  const rule = haloRule(pair)
  const hiddenBy = rule.hiddenByWhite ? (regions.get('white') ?? null) : null
  const edges = thinnedOut(
    sharedEdges(regions.get(pair[0])!, regions.get(pair[1])!, frame, budget.worstMm, hiddenBy),
  )
  const clusters = clustersOf(edges, rule, tolerance, about, visible)
  const draws = drawsOf(
    edges,
    rule,
    drawSlips(tolerance, count, seed + number),
    about,
    { of: clusters.of, count: clusters.all.length },
    task,
  )
  const ofAreas = (areas: Float64Array) => ({
    median: quantile(areas, 0.5),
    usual: quantile(areas, 0.95),
    most: quantile(areas, 1),
  })
  return {
    pair,
    tolerance,
    budget,
    areas: { foil: ofAreas(draws.areas.foil), white: ofAreas(draws.areas.white) },
    places: clusters.all.map((cluster, i) => {
      checkCancelled(task)
      const widths = draws.widths[i]!
      return {
        ...cluster,
        usualMm: quantile(widths, 0.95),
        noticed: widths.reduce((n, width) => n + (width > visible ? 1 : 0), 0) / Math.max(1, count),
        ...worstSlip(edges, clusters.of, i, pair, tolerance, cluster, about),
      }
    }),
  }
}

/** Pieces of edge that are slipped a thousand times: more are thinned out, each left one standing for its neighbours. */
const mostPieces = 60_000

function thinnedOut(edges: SharedEdges): SharedEdges {
  const step = Math.ceil(edges.count / mostPieces)
  if (step <= 1) return edges
  const every = (column: Float64Array) => column.filter((_, i) => i % step === 0)
  const length = every(edges.length).map(mm => mm * step)
  return {
    count: length.length,
    x: every(edges.x),
    y: every(edges.y),
    nx: every(edges.nx),
    ny: every(edges.ny),
    length,
    gap: every(edges.gap),
    opposed: edges.opposed.filter((_, i) => i % step === 0),
  }
}

/** Directions in which a pair is slipped by all of its offset, to find the one that opens most at a place. */
const directions = 16

function worstSlip(
  edges: SharedEdges,
  of: Int32Array,
  cluster: number,
  pair: Pair,
  tolerance: PairTolerance,
  { at }: Cluster,
  about: readonly [number, number],
): Pick<RegisterPlace, 'motions' | 'areaMm2'> {
  const rule = haloRule(pair)
  // Turn and stretch as they take this place outward and inward.
  const [x, y] = [edges.x[at]! - about[0], edges.y[at]! - about[1]]
  const turned = Math.sign(x * edges.ny[at]! - y * edges.nx[at]!) || 1
  const longer = Math.sign(x * edges.nx[at]! + y * edges.ny[at]!) || 1
  let best: { readonly slip: Slip; readonly area: number } | null = null
  const pieces = Array.from(of.keys()).filter(i => of[i] === cluster)
  for (let k = 0; k < directions; k++) {
    const angle = (2 * Math.PI * k) / directions
    const [dx, dy] = [Math.cos(angle), Math.sin(angle)]
    const sense = dx * edges.nx[at]! + dy * edges.ny[at]! < 0 ? -1 : 1
    const stretch = sense * longer * tolerance.stretch
    const slip: Slip = {
      dxMm: dx * tolerance.offsetMm,
      dyMm: dy * tolerance.offsetMm,
      turn: sense * turned * tolerance.turn,
      stretchX: stretch,
      stretchY: stretch,
    }
    let area = 0
    for (const i of pieces) {
      const gap = edges.gap[i]!
      const apart = gap + slipAt(edges, i, slip, about)
      const opposed = edges.opposed[i] === 1
      const width = Math.max(
        stripWidth(rule, 'foil', opposed, gap, apart),
        stripWidth(rule, 'white', opposed, gap, apart),
      )
      area += width * edges.length[i]!
    }
    if (best === null || area > best.area) best = { slip, area }
  }
  const { dxMm, dyMm, turn, stretchX, stretchY } = best!.slip
  const motion = { ...asDrawn, dxMm, dyMm, turn, stretchX: 1 + stretchX, stretchY: 1 + stretchY }
  return { motions: { [pair[1]]: motion }, areaMm2: best!.area }
}

const grownBox = ({ leftMm, bottomMm, rightMm, topMm }: Cluster['box'], by: number): Cluster['box'] => ({
  leftMm: leftMm - by,
  bottomMm: bottomMm - by,
  rightMm: rightMm + by,
  topMm: topMm + by,
})
