import type { Stack } from '../../core/optics/matter.ts'
import { type Args, type Flag, UsageError } from './args.ts'
import { numberOf, numbersOf } from './numbers.ts'

/** Flags of `probe` that change what lies at the spot. */
export const coatFlags: Readonly<Record<string, Flag>> = {
  white: { value: 'COVERAGE,OPACITY,HITS', says: 'a white instead of the spot’s; parts 0 to 1, hits 1 to 9' },
  chart: {
    value: 'REFLECTANCE',
    says: 'a contrast chart under the coats, instead of foil and board: 0 to 1',
  },
}

/** The spot with another white, or on a chart, as the flags say. Throws UsageError. */
export function coated(stack: Stack, args: Args): Stack {
  const white = numbersOf(args, 'white', ['coverage', 'opacity', 'hits'])
  const chart = numberOf(args, 'chart')
  let changed = stack
  if (white !== undefined) {
    const [coverage, opacity, hits] = white as [number, number, number]
    changed = {
      ...changed,
      whites: [
        {
          coverage: partOf(coverage, '--white: coverage'),
          opacity: partOf(opacity, '--white: opacity'),
          hits: hitsOf(hits),
        },
      ],
    }
  }
  if (chart !== undefined) changed = { ...changed, metal: 0, gratings: [], chart: partOf(chart, '--chart') }
  return changed
}

function partOf(value: number, place: string): number {
  if (value >= 0 && value <= 1) return value
  throw new UsageError(`${place}: expected a part from 0 to 1 (60 % is 0.6), got ${value}`)
}

function hitsOf(value: number): number {
  if (Number.isInteger(value) && value >= 1 && value <= 9) return value
  throw new UsageError(`--white: hits: expected a whole number from 1 to 9, got ${value}`)
}
