import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { type Lab, labToXyz, xyzToLab } from '../../../core/color/lab.ts'
import { conditionFactor, decodeFactor, encodeFactor } from '../../../core/color/print-condition.ts'
import { openColorEngine, type Rendering } from '../../../core/color/profile.ts'
import { readPrintCondition } from '../../../core/color/read-condition.ts'
import { whiteD50 } from '../../../core/color/xyz.ts'
import fogra39 from '../../fixtures/optics/fogra39-tints.json'

const icc = new Uint8Array(
  readFileSync(new URL('../../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url)),
)
const engine = await openColorEngine()
const relative: Rendering = { intent: 'relative', blackPoint: false }
const condition = readPrintCondition(engine, icc, relative, 'FOGRA39')

/** L*a*b* of a factor over a white. */
const labOf = (factor: readonly [number, number, number], over = whiteD50): Lab =>
  xyzToLab([factor[0] * over[0], factor[1] * over[1], factor[2] * over[2]], whiteD50)

/** X, Y, Z over white, none below 0. */
function lightOf(lab: Lab): readonly [number, number, number] {
  const [X, Y, Z] = labToXyz(lab, [1, 1, 1])
  return [Math.max(0, X), Math.max(0, Y), Math.max(0, Z)]
}

/** Inks of a small pseudo-random sequence (numbers of Numerical Recipes), a tenth of them at an end. */
function randomInks(count: number): number[][] {
  let seed = 39
  const next = () => {
    seed = (Math.imul(seed, 1664525) + 1013904223) >>> 0
    const v = seed / 2 ** 32
    return v < 0.1 ? 0 : v > 0.95 ? 1 : v
  }
  return Array.from({ length: count }, () => [next(), next(), next(), next()])
}

describe('the print condition', () => {
  test('has the name and the full tones of FOGRA39L', () => {
    expect(condition.name).toBe('ISO Coated v2 300% (basICColor)')
    // FOGRA39L (2006), printed to whole units for single inks.
    expect(deltaE2000(condition.solids[0]!, [95, 0, -2])).toBeLessThan(0.1)
    expect(deltaE2000(condition.solids[1]!, [55, -37, -50])).toBeLessThan(0.1)
    expect(deltaE2000(condition.solids[2]!, [48, 74, -3])).toBeLessThan(0.1)
    expect(deltaE2000(condition.solids[4]!, [89, -5, 93])).toBeLessThan(0.1)
    expect(deltaE2000(condition.solids[8]!, [16, 0, 0])).toBeLessThan(0.1)
  })

  // Characterisation rows of FOGRA39L; the profile's own largest distance to them is ΔE*ab 0.35 up to its 300 %.
  test('meets the characterisation data through its table', () => {
    const rows = [...fogra39.tints, ...fogra39.mixes].filter(([c, m, y, k]) => c! + m! + y! + k! <= 300)
    expect(rows.length).toBeGreaterThan(120)
    const paper = labToXyz(condition.solids[0]!, whiteD50)
    const errors = rows.map(([c, m, y, k, L, a, b]) => {
      const f = conditionFactor(condition, [c! / 100, m! / 100, y! / 100, k! / 100])
      return deltaE2000(labOf(f, paper), [L!, a!, b!])
    })
    expect(errors.reduce((sum, e) => sum + e, 0) / errors.length).toBeLessThan(0.1)
    expect(Math.max(...errors)).toBeLessThan(0.45)
  })

  // Our own measure: the engine for the very same inks. The figures stand in the docstring.
  test.each<[Rendering, number, number]>([
    [relative, 0.03, 0.2],
    [{ intent: 'relative', blackPoint: true }, 0.03, 0.35],
    [{ intent: 'perceptual', blackPoint: false }, 0.04, 0.9],
    [{ intent: 'saturation', blackPoint: false }, 0.04, 0.6],
  ])('is the engine for any inks: %o', (rendering, mean, most) => {
    const read = readPrintCondition(engine, icc, rendering, 'FOGRA39')
    const inks = randomInks(3000)
    const transform = engine.transform({ icc }, 'Lab', rendering, 'FOGRA39')
    const v = Float32Array.from(transform.run(Float32Array.from(inks.flat())))
    transform.close()
    const errors = inks.map((cmyk, i) =>
      deltaE2000(
        labOf(conditionFactor(read, cmyk)),
        // Below black there is no light.
        labOf(lightOf([v[3 * i]! * 100, v[3 * i + 1]! * 255 - 128, v[3 * i + 2]! * 255 - 128])),
      ),
    )
    expect(errors.reduce((sum, e) => sum + e, 0) / errors.length).toBeLessThan(mean)
    expect(Math.max(...errors)).toBeLessThan(most)
  })

  test('no ink changes nothing, and absolute is relative', () => {
    for (const part of conditionFactor(condition, [0, 0, 0, 0])) expect(part).toBeCloseTo(1, 3)
    const absolute = readPrintCondition(engine, icc, { intent: 'absolute', blackPoint: true }, 'FOGRA39')
    expect(absolute.factors).toEqual(condition.factors)
  })

  test('factors come back from their roots', () => {
    for (const f of [0, 0.001, 0.2, 1]) expect(decodeFactor(encodeFactor(f))).toBeCloseTo(f, 14)
  })
})
