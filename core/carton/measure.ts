import type { Blank } from './blank.ts'
import { fold, placed } from './fold.ts'

/** Sizes of the closed carton, mm: length along x, width in depth, height along y, as its root lies. */
export interface Measured {
  readonly outside: readonly [length: number, width: number, height: number]
  readonly inside: readonly [length: number, width: number, height: number]
}

type Three = readonly [number, number, number]

/** Axis of length, width, height in the folded solid. */
const axes = [0, 2, 1] as const

/** Cosine of how far from square to an axis a leaf may be that closes an end, 15°: flaps that lock rise toward the middle. */
const nearlySquare = 0.966

/**
 * Measures the folded solid as a rule would: outside by the box around every leaf, inside by the faces that look at
 * each other across the middle. Tongues lie along a wall and are left out; an end without leaves is as deep as its
 * shortest wall.
 */
export function measured(blank: Blank): Measured {
  const s = blank.caliperMm
  const placings = fold(blank, 1)
  const leaves = blank.panels.map(({ name, outline }) => {
    const placing = placings.get(name)!
    const { turn } = placing
    return {
      tongue: name.endsWith('tongue'),
      across: axes.map(axis => Math.abs(turn[3 * axis + 2]!)),
      print: outline.map(([x, y]) => placed(placing, x, y, 0)),
      board: outline.map(([x, y]) => placed(placing, x, y, -s)),
    }
  })
  const all = leaves.flatMap(({ print, board }) => [...print, ...board])
  const spans = axes.map(axis => span(all, axis))
  const [low, high] = [spans.map(([from]) => from), spans.map(([, to]) => to)]
  const sizes = (of: (i: number) => number): Three => [of(0), of(1), of(2)]
  return {
    outside: sizes(i => high[i]! - low[i]!),
    inside: sizes(i => {
      const middle = (low[i]! + high[i]!) / 2
      // A leaf nearly square to the axis, seen by its unprinted side, which looks inward.
      const faces = leaves
        .filter(({ across, tongue }) => !tongue && across[i]! > nearlySquare)
        .map(({ board }) => span(board, axes[i]!))
      const above = Math.min(...faces.filter(([from]) => from > middle).map(([from]) => from), openAt(i, 1))
      const below = Math.max(...faces.filter(([, to]) => to < middle).map(([, to]) => to), openAt(i, -1))
      return above - below
    }),
  }

  /** The shortest wall, for an end along the height that no leaf closes. */
  function openAt(i: number, sense: 1 | -1): number {
    const walls = leaves.filter(({ across, tongue }) => !tongue && (across[0]! > 0.5 || across[1]! > 0.5))
    const ends = walls.map(({ print }) => span(print, axes[i]!)[sense === 1 ? 1 : 0])
    return i !== 2 ? sense * Infinity : sense === 1 ? Math.max(...ends) : Math.min(...ends)
  }
}

function span(places: readonly Three[], axis: 0 | 1 | 2): readonly [low: number, high: number] {
  let [low, high] = [Infinity, -Infinity]
  for (const place of places) {
    low = Math.min(low, place[axis])
    high = Math.max(high, place[axis])
  }
  return [low, high]
}
