import type { Matter } from './matter.ts'
import type { Plates } from './view.ts'

/** What an object is printed on and how. */
export interface Printed {
  /** `foil`: no white between ink and metal, or the type is left open in the white. */
  readonly on: 'board' | 'white' | 'foil'
  /** The glyphs are what is left open. */
  readonly reversed: boolean
  /** Plates that the glyphs are printed in, or left open in. */
  readonly inks: number
  /** The glyphs hold white of their own, and what is around them does not. */
  readonly inWhite: boolean
}

/** A plate changes between glyph and ground when it does by more than this. */
const least = 0.03

/** How an object is printed; null where glyph and ground are the same on every plate. */
export function printedAs({ inkMean, groundMean }: Pick<Matter, 'inkMean' | 'groundMean'>): Printed | null {
  const steps = platesOf(inkMean).map((value, i) => value - platesOf(groundMean)[i]!)
  const varied = [...steps, inkMean.metal - groundMean.metal, inkMean.varnish - groundMean.varnish]
  if (varied.every(step => Math.abs(step) < least)) return null
  const reversed = steps.reduce((sum, step) => sum + step, 0) < 0
  const inks = steps.filter(step => (reversed ? -step : step) >= least).length
  const white = (plates: Plates) => Math.max(0, ...plates.whites)
  const inWhite = white(inkMean) >= half && white(groundMean) < half
  if (groundMean.metal < 0.5) return { on: 'board', reversed, inks, inWhite }
  const backed = white(groundMean) >= half && (!reversed || white(inkMean) >= half)
  return { on: backed ? 'white' : 'foil', reversed, inks, inWhite }
}

/** Less coverage than this leaves more metal than white. */
const half = 0.5

const platesOf = ({ inks, spots, whites }: Plates): readonly number[] => [...inks, ...spots, ...whites]
