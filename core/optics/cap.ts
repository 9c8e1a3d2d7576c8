import type { Groove } from './groove.ts'
import { orderShare, vectorWeight } from './order-share.ts'

/** Below this pitch, nm, the model has not been checked against a rigorous one. */
export const validatedPitch = 667

/** Phase straight in and out, φ = 4πnH/λ, of the last column: 255 nm deep under n = 1.5 at 380 nm. */
export const maxPhase = 12.8
/** Columns of every table over the phase; rows of the cap run over λ / n d in equal steps from 0 on. */
export const phaseColumns = 256
export const capRows = 15
export const capStep = 0.1

/**
 * By what all orders of a groove are divided so that they never sum to more than 1: each order has a phase of its own,
 * and F adds to it. The largest sum under any lamp in air, at least 1, by phase and λ / n d; since it knows neither lamp
 * nor eye, the two can still change places. Sinusoids of a validated pitch need none.
 * @param depth nm; λ nm; pitch nm
 */
export function shareCap(groove: Groove, depth: number, λ: number, pitch: number, coat: number): number {
  if (pitch >= freeFrom(groove)) return 1
  const grid = capGrid(groove, coat)
  const column = Math.min((4 * Math.PI * coat * depth) / λ / maxPhase, 1) * (phaseColumns - 1)
  const row = Math.min(λ / (coat * pitch) / capStep, capRows - 1)
  const x = Math.min(Math.floor(column), phaseColumns - 2)
  const y = Math.min(Math.floor(row), capRows - 2)
  const along = (at: number) => grid[at]! + (column - x) * (grid[at + 1]! - grid[at]!)
  const lower = along(y * phaseColumns + x)
  return lower + (row - y) * (along((y + 1) * phaseColumns + x) - lower)
}

/** Pitch from which a groove's orders sum to at most 1 as they are, nm; 1e9, beyond all pitches, where there is none. */
export function freeFrom(groove: Groove): number {
  return groove.shape === 'sinusoid' ? validatedPitch : 1e9
}

const grids = new WeakMap<Groove, { readonly coat: number; readonly grid: Float64Array }>()

/** {@link shareCap} at {@link capRows} × {@link phaseColumns} places, row by row; kept with the groove. */
export function capGrid(groove: Groove, coat: number): Float64Array {
  const kept = grids.get(groove)
  if (kept?.coat === coat) return kept.grid
  const grid = spread(widened(largestSums(groove, coat)))
  grids.set(groove, { coat, grid })
  return grid
}

/** Columns of the search: every fifth of the phase. */
const coarse = 5
const searched = (phaseColumns - 1) / coarse + 1
/** Rows of the search: two for every row of the cap. */
const searchedRows = 2 * capRows - 1
/** Orders that are summed; farther ones have next to nothing at the phases in use. */
const summed = 20
const across = 16
/** Part of what passes 1 that is added to it, for lamps between those searched. */
const margin = 0.06

function largestSums(groove: Groove, coat: number): Float64Array {
  const shares = shareTable(groove)
  const vector = vectorWeight(groove)
  const out = new Float64Array(searched * searchedRows).fill(1)
  for (let row = 1; row < searchedRows; row++) {
    const step = (row * capStep) / 2
    const lamps = lampDirections(step, coat)
    for (let column = 1; column < searched; column++) {
      // Phase of one ray straight on, in columns of the share table.
      const half = (column * coarse) / 2
      let most = 1
      for (const [u, w] of lamps) {
        const inside = 1 - w * w
        const qLamp = Math.sqrt(inside - u * u)
        let sum = 0
        const first = Math.max(-summed, Math.ceil((u - 1) / step))
        const last = Math.min(summed, Math.floor((u + 1) / step))
        for (let m = first; m <= last; m++) {
          const v = m * step - u
          const q2 = inside - v * v
          if (q2 < 0) continue
          const at = half * (qLamp + Math.sqrt(q2))
          const left = Math.min(Math.floor(at), phaseColumns - 2)
          const start = (m + summed) * phaseColumns + left
          const share = shares[start]! + (at - left) * (shares[start + 1]! - shares[start]!)
          sum += share * (1 + vector * (m * step) ** 2)
        }
        if (sum > most) most = sum
      }
      out[row * searched + column] = most + margin * (most - 1)
    }
  }
  return out
}

/**
 * Lamps in air by their tangential parts along and across the grating vector, in units of the coat's wave number. A
 * grid, and those under which an order is about to leave the coat's plane: there sums jump. w < 0 is the same as w > 0.
 */
function lampDirections(step: number, coat: number): (readonly [u: number, w: number])[] {
  const out: (readonly [u: number, w: number])[] = []
  const air = 1 / (coat * coat)
  for (let j = 0; j <= across / 2; j++) {
    const w = j / (across / 2) / coat
    const add = (u: number) => {
      if (u * u + w * w <= air) out.push([u, w])
    }
    for (let i = -across; i <= across; i++) add(i / across / coat)
    const grazing = (1 - 1e-9) * Math.sqrt(1 - w * w)
    for (let m = -summed; m <= summed; m++) {
      add(m * step - grazing)
      add(m * step + grazing)
    }
  }
  return out
}

function shareTable(groove: Groove): Float64Array {
  const out = new Float64Array((2 * summed + 1) * phaseColumns)
  for (let m = -summed; m <= summed; m++)
    for (let i = 0; i < phaseColumns; i++)
      out[(m + summed) * phaseColumns + i] = orderShare(groove, m, (i / (phaseColumns - 1)) * maxPhase)
  return out
}

/** Each place takes the largest of its neighbours, so that what lies between the searched places stays below too. */
function widened(sums: Float64Array): Float64Array {
  return Float64Array.from({ length: searched * capRows }, (_, at) => {
    const [row, column] = [2 * Math.floor(at / searched), at % searched]
    let most = 1
    for (let y = Math.max(0, row - 2); y <= Math.min(searchedRows - 1, row + 2); y++)
      for (let x = Math.max(0, column - 1); x <= Math.min(searched - 1, column + 1); x++)
        most = Math.max(most, sums[y * searched + x]!)
    return most
  })
}

function spread(sums: Float64Array): Float64Array {
  return Float64Array.from({ length: capRows * phaseColumns }, (_, at) => {
    const [row, i] = [Math.floor(at / phaseColumns), at % phaseColumns]
    const left = Math.min(Math.floor(i / coarse), searched - 2)
    const start = row * searched + left
    return sums[start]! + (i / coarse - left) * (sums[start + 1]! - sums[start]!)
  })
}
