import { apply, diagonal, invert, type Matrix3, multiply } from './matrix.ts'
import { whiteDisplay } from './xyz.ts'

/**
 * Part of the display's range that is shown as it is. Paper white under the lamp lands on it at 0 stops,
 * so printed ink is never altered and everything above is a highlight.
 */
export const knee = 0.8

/**
 * What the red and the green part of a highlight come to together: the luminance of a screen's yellow, so that a
 * yellow flash stays yellow. The rest up to the screen's white is kept for light with blue in it.
 */
export const ceiling = 0.92

/**
 * Compresses a part of a highlight. `m` ≥ 0; the result is in [0, c): m up to the knee k, above it
 * c − (c−k)² / (m + c − 2k) with the ceiling c, which meets the line with the same slope.
 */
export function tone(m: number): number {
  if (m <= knee) return m
  return ceiling - ((ceiling - knee) * (ceiling - knee)) / (m + ceiling - 2 * knee)
}

/** Part of the way from the ceiling to the screen's white, 0..1, by the blue part of a highlight. */
export function lift(blue: number): number {
  if (blue <= knee) return 0
  const part = 1 - knee / blue
  return part * part
}

/**
 * Three lights that nearly all others are mixtures of: the red end of the spectrum, a spectral green (532 nm) and an
 * imaginary blue without luminance, placed so that every Display-P3 light and all violets and purples are inside.
 * Luminance is then the sum of a red and a green share, and each is compressed by itself: light that is added inside
 * the triangle raises all three parts, and so is never shown darker.
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

/** Luminance of the red and the green part of white; they sum to 1. */
export const judgedWeights: readonly [red: number, green: number] = [r[1] * amounts[0], g[1] * amounts[1]]

/** XYZ (D65) to the red, the green and the blue part, each 1 for white. */
export const toJudged: Matrix3 = invert(multiply(columns, diagonal(amounts)))

/** Luminance of a light by its parts; blue has none. */
export const judgedLuminance = (red: number, green: number): number =>
  judgedWeights[0] * red + judgedWeights[1] * green

/**
 * Luminance that a light is shown with, 0..1: its own while no part is above the knee.
 * A part below 0, of spectral cyans, shrinks by as much as the other one is compressed.
 * @param red, green, blue see {@link toJudged}
 */
export function shownLuminance(red: number, green: number, blue: number): number {
  const largest = Math.max(red, green)
  const scale = largest > knee ? tone(largest) / largest : 1
  const part = (value: number) => (value > 0 ? tone(value) : value * scale)
  return Math.max(0, judgedLuminance(part(red), part(green)) + (1 - ceiling) * lift(blue))
}
