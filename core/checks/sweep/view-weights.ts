import { degreesOf, type ViewGrid } from './view-grid.ts'

/** How a hand holds the panel: tilt and turn normally distributed, apart from each other. Degrees. */
export interface HandTilt {
  readonly kind: 'hand'
  /** In words, for a reader of the numbers. */
  readonly says: string
  readonly tiltDeg: number
  readonly tiltSpreadDeg: number
  readonly turnDeg: number
  readonly turnSpreadDeg: number
}

/** What a view counts: every direction of the panel alike, or as often as a hand holds it so. */
export type Weighting = { readonly kind: 'solid-angle' } | HandTilt

/** A reader of a carton. A starting value of this program, no survey. */
export const readingHand: HandTilt = {
  kind: 'hand',
  says: 'held to be read: mostly within 20° of straight-on and 30° of upright',
  tiltDeg: 0,
  tiltSpreadDeg: 20,
  turnDeg: 0,
  turnSpreadDeg: 30,
}

/**
 * Weight of each view of a grid, in the order of `viewsOf`; they sum to 1, and every lamp has the same part.
 * Solid angle: ∫ |sin tilt| dtilt dturn over the cell, the directions that the panel's normal sweeps there.
 */
export function weightsOf({ lamps, turns, tilts }: ViewGrid, weighting: Weighting): Float64Array {
  const tiltParts = degreesOf(tilts).map(deg => tiltPart(deg, tilts.stepDeg, weighting))
  const turnParts = degreesOf(turns).map(deg => turnPart(deg, turns.stepDeg, weighting))
  const one = turnParts.flatMap(turn => tiltParts.map(tilt => turn * tilt))
  const total = lamps.length * one.reduce((a, b) => a + b, 0)
  // A hand so far from the grid that no cell holds any of it: all views count alike.
  if (!(total > 0)) return new Float64Array(lamps.length * one.length).fill(1 / (lamps.length * one.length))
  return Float64Array.from(
    lamps.flatMap(() => one),
    part => part / total,
  )
}

function tiltPart(deg: number, stepDeg: number, weighting: Weighting): number {
  switch (weighting.kind) {
    case 'solid-angle': {
      // The antiderivative of |sin| that is 0 at 0.
      const swept = (t: number) => Math.sign(t) * (1 - Math.cos((t * Math.PI) / 180))
      return swept(deg + stepDeg / 2) - swept(deg - stepDeg / 2)
    }
    case 'hand':
      return normalPart(deg - weighting.tiltDeg, stepDeg, weighting.tiltSpreadDeg)
  }
}

function turnPart(deg: number, stepDeg: number, weighting: Weighting): number {
  switch (weighting.kind) {
    case 'solid-angle':
      return stepDeg
    case 'hand': {
      const off = deg - weighting.turnDeg
      // Turned the other way round is the same.
      const nearest = off - 360 * Math.round(off / 360)
      return [-360, 0, 360].reduce(
        (sum, lap) => sum + normalPart(nearest + lap, stepDeg, weighting.turnSpreadDeg),
        0,
      )
    }
  }
}

/** ∫ of a normal density over a step: Simpson's rule on pieces of at most a quarter of its spread, to 1e-5 of its peak. */
function normalPart(off: number, step: number, spread: number): number {
  const pieces = 2 * Math.ceil(Math.max(1, (2 * step) / spread))
  const width = step / pieces
  let sum = 0
  for (let i = 0; i <= pieces; i++) {
    const weight = i === 0 || i === pieces ? 1 : i % 2 === 1 ? 4 : 2
    const x = (off - step / 2 + i * width) / spread
    sum += weight * Math.exp((-x * x) / 2)
  }
  return (sum * width) / (3 * spread * Math.sqrt(2 * Math.PI))
}
