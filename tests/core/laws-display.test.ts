import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { adaptation } from '../../core/color/adapt.ts'
import { displayColor, displayTransform } from '../../core/color/display.ts'
import { apply } from '../../core/color/matrix.ts'
import { decode } from '../../core/color/rgb.ts'
import { illuminantWhite } from '../../core/color/spectrum.ts'
import { whiteDisplay } from '../../core/color/xyz.ts'
import { illuminantNames } from '../../core/optics/scene.ts'
import { number } from './law-cases.ts'

const seeded = { seed: 20266, numRuns: 100 }
const anyLight = fc.constantFrom(...illuminantNames)
const anyGamut = fc.constantFrom('srgb' as const, 'display-p3' as const)

describe('laws of the display', () => {
  test('an adapted eye sees every grey under every lamp as grey', () => {
    fc.assert(
      fc.property(anyLight, anyGamut, number(0.001, 50), (illuminant, gamut, level) => {
        const [X, Y, Z] = illuminantWhite(illuminant)
        const transform = displayTransform({ exposureStops: 0, adapt: true, gamut }, [X, Y, Z])
        const rgb = displayColor(transform, level * X, level * Y, level * Z, new Float64Array(3))
        // The D65 of screens and the matrices behind it agree to 1e-12; above paper white highlights go to white.
        expect(Math.max(...rgb) - Math.min(...rgb)).toBeLessThan(1e-6)
      }),
      seeded,
    )
  })

  test('to one white and on to another is straight to the other', () => {
    fc.assert(
      fc.property(anyLight, anyLight, fc.tuple(number(0, 1), number(0, 1), number(0, 1)), (a, b, xyz) => {
        const [from, to] = [illuminantWhite(a), illuminantWhite(b)]
        const there = apply(adaptation(from, whiteDisplay), xyz)
        const on = apply(adaptation(whiteDisplay, to), there)
        const straight = apply(adaptation(from, to), xyz)
        for (const i of [0, 1, 2] as const) expect(on[i]).toBeCloseTo(straight[i], 10)
        const back = apply(adaptation(to, from), straight)
        for (const i of [0, 1, 2] as const) expect(back[i]).toBeCloseTo(xyz[i]!, 10)
      }),
      seeded,
    )
  })

  test('more light is never shown darker', () => {
    fc.assert(
      fc.property(anyLight, number(0.001, 20), number(1, 4), (illuminant, level, more) => {
        const white = illuminantWhite(illuminant)
        const transform = displayTransform({ exposureStops: 0, adapt: true, gamut: 'srgb' }, white)
        const shown = (s: number) =>
          displayColor(transform, s * white[0], s * white[1], s * white[2], new Float64Array(3))[1]!
        expect(shown(more * level)).toBeGreaterThanOrEqual(shown(level) - 1e-12)
      }),
      seeded,
    )
  })

  test('below paper white a stop is twice the light, whatever the lamp', () => {
    fc.assert(
      fc.property(anyLight, anyGamut, number(0.01, 0.2), number(0, 1), (illuminant, gamut, level, stops) => {
        const [X, Y, Z] = illuminantWhite(illuminant)
        const shown = (exposureStops: number) => {
          const transform = displayTransform({ exposureStops, adapt: true, gamut }, [X, Y, Z])
          return decode(displayColor(transform, level * X, level * Y, level * Z, new Float64Array(3))[0]!)
        }
        // The curve is read from its table, within a quarter of a 16-bit step.
        expect(shown(stops) / shown(0)).toBeCloseTo(2 ** stops, 4)
      }),
      seeded,
    )
  })
})
