import { BadInput } from '../base/finding.ts'
import { type Lab, labToXyz } from './lab.ts'
import { asMeasured, type ColorEngine, type Rendering } from './profile.ts'
import { requirePrinting } from './profile-header.ts'
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
 * The profile's colours for an intent, read off the engine in full precision. 33 nodes an ink, linear between: over
 * random inks 0.02 ΔE00 in the mean and 0.4 at most of the engine (colorimetric; perceptual tables bend more: 0.7).
 * Absolute differs from relative only in that white ink takes the paper's colour; see `Printing` of the optics.
 * Throws BadInput when the profile is no print condition or its colours cannot be.
 * @param subject file name, for messages
 */
export function readPrintCondition(
  engine: ColorEngine,
  icc: Uint8Array,
  rendering: Rendering,
  subject: string,
): PrintCondition {
  requirePrinting(icc, subject)
  const { name } = engine.inspect(icc, subject)
  const solids = labs(engine, icc, asMeasured, primaryTones, subject)
  requirePlausible(solids, subject)
  const way: Rendering =
    rendering.intent === 'absolute' ? { intent: 'relative', blackPoint: false } : rendering
  const factors = new Uint16Array(3 * conditionNodes ** 4)
  const plane = conditionNodes ** 3
  // A plane of equal black at a time, so that the engine's memory stays small.
  for (let k = 0; k < conditionNodes; k++) {
    const colors = labs(engine, icc, way, tonesOfBlack(k), subject)
    for (let i = 0; i < plane; i++) {
      const xyz = labToXyz(colors[i]!, [1, 1, 1])
      for (let c = 0; c < 3; c++)
        factors[3 * (k * plane + i) + c] = Math.round(
          (Math.min(largest, encodeFactor(xyz[c as 0 | 1 | 2])) / largest) * 65535,
        )
    }
  }
  return { name, rendering, solids, factors }
}

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

const primaryTones = Float32Array.from({ length: 64 }, (_, i) => ((i >> 2) >> (i & 3)) & 1)

function tonesOfBlack(k: number): Float32Array {
  const last = conditionNodes - 1
  const tones = new Float32Array(4 * conditionNodes ** 3)
  for (let i = 0; i < tones.length; i += 4) {
    const node = i / 4
    tones[i] = (node % conditionNodes) / last
    tones[i + 1] = (Math.floor(node / conditionNodes) % conditionNodes) / last
    tones[i + 2] = Math.floor(node / conditionNodes ** 2) / last
    tones[i + 3] = k / last
  }
  return tones
}

function labs(
  engine: ColorEngine,
  icc: Uint8Array,
  rendering: Rendering,
  tones: Float32Array,
  subject: string,
): Lab[] {
  const transform = engine.transform({ icc }, 'Lab', rendering, subject)
  try {
    const v = transform.run(tones)
    return Array.from({ length: v.length / 3 }, (_, i) => [
      v[3 * i]! * 100,
      v[3 * i + 1]! * 255 - 128,
      v[3 * i + 2]! * 255 - 128,
    ])
  } finally {
    transform.close()
  }
}

/** A damaged table would print black on white paper or nothing on black: said here, never shown. */
function requirePlausible(solids: readonly Lab[], subject: string): void {
  const paper = solids[0]!
  const all = solids[15]!
  const refuse = (problem: string) =>
    new BadInput(
      'profile-implausible',
      subject,
      'colour profile',
      problem,
      'Choose another profile of the printing; this one is damaged',
    )
  if (!solids.flat().every(Number.isFinite)) throw refuse('gives colours that are no numbers')
  if (paper[0] < 50) throw refuse(`says that bare paper has L* ${paper[0].toFixed(1)}`)
  if (all[0] > paper[0] - 20)
    throw refuse(
      `says that all inks together have L* ${all[0].toFixed(1)} on paper of ${paper[0].toFixed(1)}`,
    )
}
