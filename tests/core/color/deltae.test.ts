import { readFileSync } from 'node:fs'
import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'

type Row = [number, number, number, number, number, number, number]
const { pairs } = JSON.parse(
  readFileSync(new URL('../../fixtures/optics/sharma2005.json', import.meta.url), 'utf8'),
) as { pairs: Row[] }

describe('deltaE2000', () => {
  test('has all pairs', () => expect(pairs).toHaveLength(34))

  // Sharma, Wu & Dalal (2005), Color Res. Appl. 30(1), table 1; printed to 4 decimals. Pair 14 has a hue difference
  // of exactly 180° and its mean hue falls either side with the last bit of atan2: 4.8045 or 4.7461.
  test.each(pairs.map((pair, i) => [i + 1, pair] as const))('pair %i', (number, pair) => {
    const [L1, a1, b1, L2, a2, b2, printed] = pair
    const found = deltaE2000([L1, a1, b1], [L2, a2, b2])
    const allowed = number === 14 ? [4.8045, 4.7461] : [printed]
    expect(Math.min(...allowed.map(value => Math.abs(found - value)))).toBeLessThanOrEqual(5e-5)
  })

  const lab = fc.tuple(
    fc.double({ min: 0, max: 100, noNaN: true }),
    fc.double({ min: -100, max: 100, noNaN: true }),
    fc.double({ min: -100, max: 100, noNaN: true }),
  )

  test('swapping the two changes nothing, and a colour is no distance from itself', () => {
    fc.assert(
      fc.property(lab, lab, (one, other) => {
        expect(deltaE2000(one, other)).toBeCloseTo(deltaE2000(other, one), 9)
        expect(deltaE2000(one, one)).toBe(0)
      }),
    )
  })

  test('agrees with colorjs.io', () => {
    // Whole numbers, and no opposite hues: colorjs.io treats chroma under its own threshold as grey, and the
    // formula itself jumps where two hues lie 180° apart.
    const lightness = fc.integer({ min: 0, max: 100 })
    const axis = fc.integer({ min: -100, max: 100 })
    const whole = fc.tuple(lightness, axis, axis)
    fc.assert(
      fc.property(whole, whole, (one, other) => {
        fc.pre(one[1] * other[2] !== one[2] * other[1])
        const oracle = new Color('lab', [...one]).deltaE(new Color('lab', [...other]), '2000')
        expect(deltaE2000(one, other)).toBeCloseTo(oracle, 8)
      }),
    )
  })
})
