import { apply, diagonal, invert, type Matrix3, multiply } from './matrix.ts'
import { whiteDisplay } from './xyz.ts'

/**
 * Part of the display's range that is shown as it is. Paper white under the lamp lands on it at 0 stops,
 * so printed ink is never altered and everything above is a highlight.
 */
export const knee = 0.8

/**
 * Compresses a highlight. `m` is a linear component, ≥ 0; the result is in [0, 1):
 * m up to the knee k, above it 1 − (1−k)² / (m + 1 − 2k), which meets the line with the same slope.
 */
export function tone(m: number): number {
  if (m <= knee) return m
  return 1 - ((1 - knee) * (1 - knee)) / (m + 1 - 2 * knee)
}

/**
 * Three lights that nearly all others are mixtures of: the red end of the spectrum, a spectral green (532 nm) and an
 * imaginary blue without luminance, placed so that every Display-P3 light and all violets and purples are inside.
 * Luminance is then the sum of a red and a green share, and each is compressed by itself: light that is added inside
 * the triangle raises both, and so is never shown darker.
 */
const judged = [
  [0.7347, 0.2653],
  [0.17, 0.797],
  [0.148, 0],
] as const

const primaries = judged.map(([x, y]) => [x, y, 1 - x - y] as const)
const [r, g, b] = primaries as [Column, Column, Column]
type Column = readonly [number, number, number]
const columns: Matrix3 = [r[0], g[0], b[0], r[1], g[1], b[1], r[2], g[2], b[2]]
const amounts = apply(invert(columns), whiteDisplay)
const toAmounts = invert(multiply(columns, diagonal(amounts)))

/** Luminance of the red and the green part of white; they sum to 1. */
export const judgedWeights: readonly [red: number, green: number] = [r[1] * amounts[0], g[1] * amounts[1]]

/** XYZ (D65) to the red and the green part, each 1 for white, and to luminance. */
export const toJudged: Matrix3 = [
  toAmounts[0],
  toAmounts[1],
  toAmounts[2],
  toAmounts[3],
  toAmounts[4],
  toAmounts[5],
  0,
  1,
  0,
]

/**
 * Luminance that a light is shown with, 0..1: its own while neither part is above the knee.
 * A part below 0, of spectral cyans, shrinks by as much as the other one is compressed.
 * @param red, green see {@link toJudged}
 */
export function shownLuminance(red: number, green: number): number {
  const largest = Math.max(red, green)
  const scale = largest > knee ? tone(largest) / largest : 1
  const part = (value: number) => (value > 0 ? tone(value) : value * scale)
  return Math.max(0, judgedWeights[0] * part(red) + judgedWeights[1] * part(green))
}
