import type { Lab } from './lab.ts'
import type { Rendering } from './profile.ts'
import type { XYZ } from './xyz.ts'

/** What a CMYK profile says that inks look like on its paper, as numbers that need no engine. */
export interface PrintCondition {
  /** The profile's own name. */
  readonly name: string
  readonly rendering: Rendering
  /** L*a*b* (D50) of paper and the 15 full-tone primaries as measured; bit 0 cyan, 1 magenta, 2 yellow, 3 black. */
  readonly solids: readonly Lab[]
  /**
   * Light of the print over that of the bare paper, X, Y, Z under D50, at {@link conditionNodes}⁴ tones; cyan runs
   * fastest, then magenta, yellow, black. Held as {@link encodeFactor}, in 65535ths of the largest.
   */
  readonly factors: Uint16Array
}

/** Tones of one ink in the table, evenly from none to solid. */
export const conditionNodes = 33

/**
 * A factor as tables hold it: straight lines between roots err least, both by eye and where black is taken out
 * (measured against none, cube root and CIELAB's own curve). The shelf keeps the slope finite in the dark, and room for
 * what lies below black once it is taken out.
 */
export const encodeFactor = (factor: number): number => Math.sqrt(Math.max(0, factor + factorShelf))
export const decodeFactor = (root: number): number => root * root - factorShelf
export const factorShelf = 0.01
/** Roots of the brightest factor that a table holds: paper can be a little over white, black point taken out. */
const largest = 1.1

/** A factor as the condition keeps it. */
export const storeFactor = (factor: number): number =>
  Math.round((Math.min(largest, encodeFactor(factor)) / largest) * 65535)

/** Node of the table, 0..1 roots: the number at `3 · node + channel`. */
export const rootAt = (condition: PrintCondition, at: number): number =>
  (condition.factors[at]! / 65535) * largest

/** X, Y, Z of inks on paper over bare paper, under D50. @param cmyk ink 0..1 */
export function conditionFactor(condition: PrintCondition, cmyk: ArrayLike<number>): XYZ {
  const sum: [number, number, number] = [0, 0, 0]
  for (let corner = 0; corner < 16; corner++) {
    let weight = 1
    let node = 0
    for (let ink = 3; ink >= 0; ink--) {
      const at = Math.min(1, Math.max(0, cmyk[ink]!)) * (conditionNodes - 1)
      const left = Math.min(Math.floor(at), conditionNodes - 2)
      const right = (corner >> ink) & 1
      weight *= right ? at - left : 1 - (at - left)
      node = node * conditionNodes + left + right
    }
    if (weight > 0) for (let c = 0; c < 3; c++) sum[c]! += weight * rootAt(condition, 3 * node + c)
  }
  return [
    Math.max(0, decodeFactor(sum[0])),
    Math.max(0, decodeFactor(sum[1])),
    Math.max(0, decodeFactor(sum[2])),
  ]
}
