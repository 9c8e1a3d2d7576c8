import type { PdfFunction } from './function.ts'
import type { ColourSpace } from './reading.ts'

/** Amounts of ink along one number, 0..1. */
export interface Ramp {
  readonly inks: readonly number[]
  /** Writes the amounts at `s` to place `at` of each of `out`. */
  readonly write: (s: number, out: readonly Float32Array[], at: number) => void
}

/** Steps of a ramp: a step that is hard in the file is as wide as one of them, a pixel in a gradient of a full page. */
const steps = 4096

/**
 * Works a ramp out beforehand, straight between 4097 places.
 * @param colour colour values at a number of the domain
 */
export function makeRamp(space: ColourSpace, domain: readonly [number, number], colour: PdfFunction): Ramp {
  const n = space.inks.length
  const c = space.components
  const values = new Float32Array((steps + 1) * c)
  const one = new Float64Array(Math.max(c, colour.outputs))
  const input = new Float64Array(1)
  for (let i = 0; i <= steps; i++) {
    input[0] = domain[0] + (i / steps) * (domain[1] - domain[0])
    colour.run(input, one)
    for (let k = 0; k < c; k++) values[i * c + k] = one[k]!
  }
  const table = space.manyTints(values)
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
