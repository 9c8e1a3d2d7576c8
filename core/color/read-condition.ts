import { BadInput } from '../base/finding.ts'
import { fromRoot, type Lab } from './lab.ts'
import { conditionNodes, type PrintCondition, storeFactor } from './print-condition.ts'
import { asMeasured, type ColorEngine, type Rendering } from './profile.ts'
import { requirePrinting } from './profile-header.ts'

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
  const solids = reading(engine, icc, asMeasured, subject, labsOf => {
    const values = labsOf(primaryTones)
    return Array.from({ length: values.length / 3 }, (_, i) => labAt(values, i))
  })
  requirePlausible(solids, subject)
  const way: Rendering =
    rendering.intent === 'absolute' ? { intent: 'relative', blackPoint: false } : rendering
  const factors = new Uint16Array(3 * conditionNodes ** 4)
  const plane = conditionNodes ** 3
  const tones = tonesWithoutBlack()
  reading(engine, icc, way, subject, labsOf => {
    // A plane of equal black at a time, so that the engine's memory stays small.
    for (let k = 0; k < conditionNodes; k++) {
      for (let i = 0; i < plane; i++) tones[4 * i + 3] = k / (conditionNodes - 1)
      const values = labsOf(tones)
      for (let i = 0; i < plane; i++) {
        // Number by number: a million small arrays cost as much as the engine.
        const fy = (values[3 * i]! * 100 + 16) / 116
        const at = 3 * (k * plane + i)
        factors[at] = storeFactor(fromRoot(fy + (values[3 * i + 1]! * 255 - 128) / 500))
        factors[at + 1] = storeFactor(fromRoot(fy))
        factors[at + 2] = storeFactor(fromRoot(fy - (values[3 * i + 2]! * 255 - 128) / 200))
      }
    }
  })
  return { name, rendering, solids, factors }
}

const primaryTones = Float32Array.from({ length: 64 }, (_, i) => ((i >> 2) >> (i & 3)) & 1)

/** Cyan, magenta and yellow of the nodes of one plane. */
function tonesWithoutBlack(): Float32Array {
  const last = conditionNodes - 1
  const tones = new Float32Array(4 * conditionNodes ** 3)
  for (let i = 0; i < tones.length; i += 4) {
    const node = i / 4
    tones[i] = (node % conditionNodes) / last
    tones[i + 1] = (Math.floor(node / conditionNodes) % conditionNodes) / last
    tones[i + 2] = Math.floor(node / conditionNodes ** 2) / last
  }
  return tones
}

/** @param read gets a way from tones to Lab numbers as the engine has them; the next call takes the place of the last */
function reading<T>(
  engine: ColorEngine,
  icc: Uint8Array,
  rendering: Rendering,
  subject: string,
  read: (labsOf: (tones: Float32Array) => Float32Array) => T,
): T {
  const transform = engine.transform({ icc }, 'Lab', rendering, subject)
  try {
    return read(tones => transform.run(tones))
  } finally {
    transform.close()
  }
}

const labAt = (values: Float32Array, i: number): Lab => [
  values[3 * i]! * 100,
  values[3 * i + 1]! * 255 - 128,
  values[3 * i + 2]! * 255 - 128,
]

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
