import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { labPlane, screenPlane } from '../../../core/color/ink-plane.ts'
import { type Lab, labToXyz } from '../../../core/color/lab.ts'
import { openColorEngine, type Rendering } from '../../../core/color/profile.ts'
import { readPrintCondition } from '../../../core/color/read-condition.ts'

const icc = new Uint8Array(
  readFileSync(new URL('../../../core/data/icc/ISOcoated_v2_300_bas.icc', import.meta.url)),
)
const engine = await openColorEngine()
const relative: Rendering = { intent: 'relative', blackPoint: false }
const condition = readPrintCondition(engine, icc, relative, 'FOGRA39')

/** Noise of a linear congruential generator (numbers of Numerical Recipes). */
const noise = new Uint8Array(4 * 5000)
let seed = 7
for (let i = 0; i < noise.length; i++) {
  seed = (Math.imul(seed, 1664525) + 1013904223) | 0
  noise[i] = seed >>> 24
}

const byEngine = (() => {
  const transform = engine.transform({ icc }, 'Lab', relative, 'FOGRA39')
  const v = Float32Array.from(transform.run(Float32Array.from(noise, byte => byte / 255)))
  transform.close()
  return v
})()

describe('a plane of print', () => {
  // The engine for the same inks. A step of L* is 0.4, of a* and b* 1: rounding alone is 0.3 in the mean.
  test('is the engine’s L*a*b* to its bytes', () => {
    const lab = labPlane(condition)(noise, new Uint8Array(3 * 5000))
    let sum = 0
    let most = 0
    for (let i = 0; i < 5000; i++) {
      const ours: Lab = [lab[3 * i]! / 2.55, lab[3 * i + 1]! - 128, lab[3 * i + 2]! - 128]
      const exact: Lab = [
        byEngine[3 * i]! * 100,
        byEngine[3 * i + 1]! * 255 - 128,
        byEngine[3 * i + 2]! * 255 - 128,
      ]
      const difference = deltaE2000(ours, exact)
      sum += difference
      most = Math.max(most, difference)
    }
    expect(sum / 5000).toBeLessThan(0.4)
    expect(most).toBeLessThan(1.6)
  })

  test('gives nodes of its table exactly, and pixels alike alike', () => {
    const solids = Uint8Array.from([0, 0, 0, 0, 0, 0, 0, 0, 255, 0, 0, 0, 0, 255, 255, 0, 255, 255, 255, 255])
    const lab = labPlane(condition)(solids, new Uint8Array(15))
    expect([...lab.slice(0, 6)]).toEqual([255, 128, 128, 255, 128, 128])
    // FOGRA39L relative to its paper, by the engine.
    const transform = engine.transform({ icc }, 'Lab', relative, 'FOGRA39')
    const v = transform.run(Float32Array.of(1, 0, 0, 0, 0, 1, 1, 0, 1, 1, 1, 1))
    for (let i = 0; i < 9; i++) {
      // Half a byte, and half of the table's half.
      expect(Math.abs(lab[6 + i]! - v[i]! * 255)).toBeLessThanOrEqual(0.76)
    }
    transform.close()
  })

  test('on a screen: paper is white, black is dark and neutral, order is kept', () => {
    const greys = Uint8Array.from([0, 0, 0, 0, 0, 0, 0, 64, 0, 0, 0, 128, 0, 0, 0, 255])
    const rgb = screenPlane(condition)(greys, new Uint8Array(12))
    expect([...rgb.slice(0, 3)]).toEqual([255, 255, 255])
    for (let i = 3; i < 12; i++) expect(rgb[i]!).toBeLessThan(rgb[i - 3]!)
    // IEC 61966-2-1 of the engine's own lightness, Y of L* by CIE 015; a neutral colour has it in all three.
    const Y = labToXyz([(rgb[9]! / 255) * 100, 0, 0], [1, 1, 1])[1]
    expect(Y).toBeLessThan(0.05)
    expect(Math.max(...rgb.slice(9)) - Math.min(...rgb.slice(9))).toBeLessThan(12)
  })
})
