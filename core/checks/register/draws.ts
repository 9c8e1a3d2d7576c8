import { checkCancelled, type Task } from '../../base/task.ts'
import { normal } from '../../effects/chance.ts'
import type { PointMm } from '../../effects/outline.ts'
import { type Halo, type HaloRule, stripWidth } from './halo.ts'
import type { SharedEdges } from './shared-edges.ts'
import type { PairTolerance } from './tolerance.ts'

/** How the second group of a pair lies beside the first. */
export interface Slip {
  readonly dxMm: number
  readonly dyMm: number
  /** Radians. */
  readonly turn: number
  /** Part of the length by which it is longer, across and up. */
  readonly stretchX: number
  readonly stretchY: number
}

/** What slips at random come to. */
export interface Draws {
  readonly slips: readonly Slip[]
  /** Mm² of each draw, all edges together. Corners count for both of their edges: never less than what shows. */
  readonly areas: Readonly<Record<Halo, Float64Array>>
  /** Widest sliver of each draw, mm, by cluster of edges; `clusters` numbers them. */
  readonly widths: readonly Float64Array[]
}

/** A tolerance is three deviations of a normal distribution: all but 3 of 1000 stay within it. */
const deviations = 3

/** The same slips for the same seed. */
export function drawSlips(tolerance: PairTolerance, count: number, seed: number): readonly Slip[] {
  const { offsetMm, turn, stretch } = tolerance
  return Array.from({ length: count }, (_, i) => ({
    dxMm: (normal(i, 0, seed, 0) * offsetMm) / deviations,
    dyMm: (normal(i, 1, seed, 0) * offsetMm) / deviations,
    turn: (normal(i, 2, seed, 0) * turn) / deviations,
    stretchX: (normal(i, 3, seed, 0) * stretch) / deviations,
    stretchY: (normal(i, 4, seed, 0) * stretch) / deviations,
  }))
}

/**
 * Slips a pair many times and sums what opens along the edges that the two share.
 * @param clusters number of the cluster of each piece of edge, or -1
 */
export function drawsOf(
  edges: SharedEdges,
  rule: HaloRule,
  slips: readonly Slip[],
  about: PointMm,
  clusters: { readonly of: Int32Array; readonly count: number },
  task?: Task,
): Draws {
  const areas = { foil: new Float64Array(slips.length), white: new Float64Array(slips.length) }
  const widths = Array.from({ length: clusters.count }, () => new Float64Array(slips.length))
  slips.forEach((slip, draw) => {
    if (draw % 50 === 0) checkCancelled(task)
    for (let i = 0; i < edges.count; i++) {
      const gap = edges.gap[i]!
      const apart = gap + slipAt(edges, i, slip, about)
      const opposed = edges.opposed[i] === 1
      const foil = stripWidth(rule, 'foil', opposed, gap, apart)
      const white = foil > 0 ? 0 : stripWidth(rule, 'white', opposed, gap, apart)
      if (foil === 0 && white === 0) continue
      areas.foil[draw]! += foil * edges.length[i]!
      areas.white[draw]! += white * edges.length[i]!
      const cluster = clusters.of[i]!
      if (cluster >= 0 && widths[cluster]![draw]! < foil + white) widths[cluster]![draw] = foil + white
    }
  })
  return { slips, areas, widths }
}

/** How far a slip takes the second group outward at a piece of edge, mm. */
export function slipAt(edges: SharedEdges, i: number, slip: Slip, [cx, cy]: PointMm): number {
  const x = edges.x[i]! - cx
  const y = edges.y[i]! - cy
  return (
    (slip.dxMm - slip.turn * y + slip.stretchX * x) * edges.nx[i]! +
    (slip.dyMm + slip.turn * x + slip.stretchY * y) * edges.ny[i]!
  )
}

/** The value that a share of all values does not exceed. @param share 0..1 */
export function quantile(values: Float64Array, share: number): number {
  const sorted = values.toSorted()
  return sorted[Math.min(sorted.length - 1, Math.max(0, Math.ceil(share * sorted.length) - 1))] ?? 0
}
