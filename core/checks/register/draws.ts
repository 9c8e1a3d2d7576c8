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
  const apart = shownBy(edges, rule, 1)
  const together = shownBy(edges, rule, -1)
  const pieces = Uint32Array.from(edges.gap.keys()).filter(i => apart[i] !== 0 || together[i] !== 0)
  const column = (values: Float64Array) => Float64Array.from(pieces, i => values[i]!)
  const [nx, ny, gaps, lengths] = [
    column(edges.nx),
    column(edges.ny),
    column(edges.gap),
    column(edges.length),
  ]
  // As slipAt says, by what each part of a slip is multiplied with: a thousand draws of some ten thousand pieces.
  const [cx, cy] = about
  const stretchedX = Float64Array.from(pieces, i => (edges.x[i]! - cx) * edges.nx[i]!)
  const stretchedY = Float64Array.from(pieces, i => (edges.y[i]! - cy) * edges.ny[i]!)
  const turned = Float64Array.from(
    pieces,
    i => (edges.x[i]! - cx) * edges.ny[i]! - (edges.y[i]! - cy) * edges.nx[i]!,
  )
  // Of each piece, what it shows apart and together, and its cluster.
  const shows = Uint8Array.from(pieces, i => apart[i]! + 4 * together[i]!)
  const of = Int32Array.from(pieces, i => clusters.of[i]!)
  const widest = new Float64Array(clusters.count)
  slips.forEach((slip, draw) => {
    if (draw % 50 === 0) checkCancelled(task)
    const { dxMm, dyMm, turn, stretchX, stretchY } = slip
    let foil = 0
    let white = 0
    widest.fill(0)
    for (let i = 0; i < shows.length; i++) {
      const gap =
        gaps[i]! +
        dxMm * nx[i]! +
        dyMm * ny[i]! +
        turn * turned[i]! +
        stretchX * stretchedX[i]! +
        stretchY * stretchedY[i]!
      const shown = gap > 0 ? shows[i]! & 3 : shows[i]! >> 2
      if (shown === 0) continue
      const width = Math.abs(gap)
      if (shown === 1) foil += width * lengths[i]!
      else white += width * lengths[i]!
      const cluster = of[i]!
      if (cluster >= 0 && widest[cluster]! < width) widest[cluster] = width
    }
    areas.foil[draw] = foil
    areas.white[draw] = white
    for (let cluster = 0; cluster < clusters.count; cluster++) widths[cluster]![draw] = widest[cluster]!
  })
  return { slips, areas, widths }
}

/**
 * What each piece of edge shows where its two sides come to lie apart (1) or over each other (-1), by number: 1 metal,
 * 2 white, 0 nothing. The thousand draws then only ask how far.
 */
function shownBy(edges: SharedEdges, rule: HaloRule, apart: 1 | -1): Uint8Array {
  return edges.opposed.map((opposed, i) => {
    const shows = (halo: Halo) => stripWidth(rule, halo, opposed === 1, edges.gap[i]!, apart) > 0
    return shows('foil') ? 1 : shows('white') ? 2 : 0
  })
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
