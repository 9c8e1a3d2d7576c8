import type { PdfFunction } from './function.ts'
import type { ColorSpace } from './reading.ts'

/** Amounts of ink along one number, 0..1. */
export interface Ramp {
  readonly inks: readonly number[]
  /** Writes the amounts at `s` to place `at` of each of `out`. */
  readonly write: (s: number, out: readonly Float32Array[], at: number) => void
}

/** Steps of a ramp that bends little between them, and of any other: a hard step is as wide as one of them. */
const few = 256
const many = 4096
/** How far a ramp of few steps may be from the colour itself: an eighth of a level of 255. */
const bend = 1 / 2048

/**
 * Works a ramp out beforehand, straight between 257 places, or 4097 where that would not do.
 * @param colour colour values at a number of the domain
 * @param isPlain it has no parts, so that nothing can hide between two places
 */
export function makeRamp(
  space: ColorSpace,
  domain: readonly [number, number],
  color: PdfFunction,
  isPlain: boolean,
): Ramp {
  const n = space.inks.length
  const isEven = isPlain && bendOf(tableOf(space, domain, color, 2 * few), n) <= bend
  const steps = isEven ? few : many
  const table = tableOf(space, domain, color, steps)
  return {
    inks: space.inks,
    write: (s, out, at) => {
      const place = Math.min(1, Math.max(0, s)) * steps
      const left = Math.min(steps - 1, Math.floor(place))
      const share = place - left
      for (let k = 0; k < n; k++) {
        const low = table[left * n + k]!
        out[k]![at] = low + share * (table[(left + 1) * n + k]! - low)
      }
    },
  }
}

function tableOf(
  space: ColorSpace,
  domain: readonly [number, number],
  color: PdfFunction,
  steps: number,
): Float32Array {
  const c = space.components
  const values = new Float32Array((steps + 1) * c)
  const one = new Float64Array(Math.max(c, color.outputs))
  const input = new Float64Array(1)
  for (let i = 0; i <= steps; i++) {
    input[0] = domain[0] + (i / steps) * (domain[1] - domain[0])
    color.run(input, one)
    for (let k = 0; k < c; k++) values[i * c + k] = one[k]!
  }
  return space.manyTints(values)
}

/** The most that every other place is off the line between its neighbours. */
function bendOf(table: Float32Array, n: number): number {
  let most = 0
  for (let i = n; i + n < table.length; i += 2 * n)
    for (let k = i; k < i + n; k++)
      most = Math.max(most, Math.abs(table[k]! - (table[k - n]! + table[k + n]!) / 2))
  return most
}
