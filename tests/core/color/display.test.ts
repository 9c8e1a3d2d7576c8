import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type DisplaySettings, displayColor, displayTransform } from '../../../core/color/display.ts'
import { gamutSlack, gamutSteps, reduceChroma } from '../../../core/color/gamut.ts'
import { apply, multiply, type Vector3 } from '../../../core/color/matrix.ts'
import { conesToXyz, xyzToOklab } from '../../../core/color/oklab.ts'
import { decode, encode, type Gamut, rgbSpaces } from '../../../core/color/rgb.ts'
import { illuminantWhite, observer } from '../../../core/color/spectrum.ts'
import { knee, tone, whitening } from '../../../core/color/tone.ts'
import { whiteDisplay } from '../../../core/color/xyz.ts'

const settings = (gamut: Gamut, exposureStops = 0): DisplaySettings => ({ exposureStops, adapt: true, gamut })
const show = (gamut: Gamut, [X, Y, Z]: Vector3, stops = 0): number[] => [
  ...displayColor(displayTransform(settings(gamut, stops), whiteDisplay), X, Y, Z, new Float64Array(3)),
]
const gamuts = ['srgb', 'display-p3'] as const
const oklabOf = (gamut: Gamut, rgb: readonly number[]) =>
  xyzToOklab(apply(rgbSpaces[gamut].toXyz, [decode(rgb[0]!), decode(rgb[1]!), decode(rgb[2]!)]))
const hue = (a: number, b: number) => (Math.atan2(b, a) * 180) / Math.PI

describe('tone', () => {
  test('leaves everything up to paper white alone', () => {
    for (let m = 0; m <= knee; m += 0.01) expect(tone(m)).toBe(m)
  })
  test('meets the line at the knee with its slope', () => {
    const h = 1e-6
    expect(tone(knee + h)).toBeCloseTo(knee + h, 9)
    expect((tone(knee + 2 * h) - tone(knee + h)) / h).toBeCloseTo(1, 4)
  })
  test('rises and stays under 1', () => {
    let last = 0
    for (let m = 0.01; m < 1e6; m *= 1.1) {
      expect(tone(m)).toBeGreaterThan(last)
      expect(tone(m)).toBeLessThan(1)
      last = tone(m)
    }
  })
  test('keeps the hue of highlights up to 25 times paper white', () => {
    expect(whitening(25 * knee)).toBe(0)
    expect(whitening(400 * knee)).toBeGreaterThan(0.1)
    expect(whitening(400 * knee)).toBeLessThan(0.75)
    expect(whitening(1e9)).toBe(1)
  })
})

describe('reduceChroma', () => {
  const conesToRgb = (gamut: Gamut) => multiply(rgbSpaces[gamut].fromXyz, conesToXyz)

  test.each(gamuts)('%s: keeps lightness and hue of every spectral colour', gamut => {
    for (let nm = 420; nm <= 680; nm += 2) {
      const i = nm - 380
      // Scaled to a lightness every display can show.
      const scale = 0.3 / (observer.x[i]! + observer.y[i]! + observer.z[i]!)
      const xyz: Vector3 = [observer.x[i]! * scale, observer.y[i]! * scale, observer.z[i]! * scale]
      const [L, a, b] = xyzToOklab(xyz)
      const out = reduceChroma(L, a, b, conesToRgb(gamut), new Float64Array(3))
      const [L2, a2, b2] = xyzToOklab(apply(rgbSpaces[gamut].toXyz, [out[0]!, out[1]!, out[2]!]))
      // Clipping the slack of 1e-5 of light near black is what moves them at all.
      expect(Math.abs(L2 - L)).toBeLessThan(2e-3)
      expect(Math.abs(hue(a2, b2) - hue(a, b))).toBeLessThan(0.5)
      expect(Math.hypot(a2, b2)).toBeLessThan(Math.hypot(a, b))
      // As much chroma as fits: one more step of the search would leave the gamut.
      const more = Math.hypot(a2, b2) / Math.hypot(a, b) + 2 ** -gamutSteps * 1.5
      const wider = new Color('oklab', [L, a * more, b * more])
      expect(wider.inGamut(gamut === 'srgb' ? 'srgb' : 'p3', { epsilon: gamutSlack })).toBe(false)
    }
  })

  test.each(gamuts)('%s: leaves colours inside alone', gamut => {
    const unit = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(unit, unit, unit, (r, g, b) => {
        const [L, A, B] = xyzToOklab(apply(rgbSpaces[gamut].toXyz, [r, g, b]))
        const out = reduceChroma(L, A, B, conesToRgb(gamut), new Float64Array(3))
        expect(Math.abs(out[0]! - r)).toBeLessThan(1e-9)
        expect(Math.abs(out[1]! - g)).toBeLessThan(1e-9)
        expect(Math.abs(out[2]! - b)).toBeLessThan(1e-9)
      }),
    )
  })
})

describe('displayColor', () => {
  test.each((['A', 'D50', 'D65'] as const).flatMap(lamp => gamuts.map(gamut => [lamp, gamut] as const)))(
    'paper under %s is a neutral 0.8 on %s',
    (lamp, gamut) => {
      const white = illuminantWhite(lamp)
      const transform = displayTransform(settings(gamut), white)
      const rgb = displayColor(transform, ...white, new Float64Array(3))
      for (const value of rgb) expect(Math.abs(value - encode(0.8))).toBeLessThan(1e-12)
    },
  )

  test('without adaptation paper under A is orange', () => {
    const white = illuminantWhite('A')
    const transform = displayTransform({ exposureStops: 0, adapt: false, gamut: 'srgb' }, white)
    const [r, g, b] = displayColor(transform, ...white, new Float64Array(3))
    expect(r).toBeGreaterThan(g!)
    expect(g).toBeGreaterThan(b!)
  })

  test.each(gamuts)('%s: printed ink is shown as it is, by colorjs.io', gamut => {
    const unit = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(unit, unit, unit, (r, g, b) => {
        const xyz = apply(rgbSpaces.srgb.toXyz, [r, g, b])
        const oracle = new Color('xyz-d65', [0.8 * xyz[0], 0.8 * xyz[1], 0.8 * xyz[2]])
        const expected = oracle.to(gamut === 'srgb' ? 'srgb' : 'p3').coords.map(Number)
        show(gamut, xyz).forEach((value, i) => {
          // Linear light is exact to 1e-12; the straight part of the curve multiplies it by 12.92, and both
          // thresholds of the curve are rounded to 3e-8 of light.
          expect(Math.abs(value - Math.max(0, expected[i]!))).toBeLessThan(4e-7)
        })
      }),
    )
  })

  test('one stop doubles the light of a dark colour', () => {
    const grey: Vector3 = [whiteDisplay[0] * 0.1, 0.1, whiteDisplay[2] * 0.1]
    expect(decode(show('srgb', grey, 1)[1]!)).toBeCloseTo(2 * decode(show('srgb', grey, 0)[1]!), 12)
  })

  test('any light gives values in 0..1', () => {
    const light = fc.double({ min: 0, max: 1e4, noNaN: true })
    fc.assert(
      fc.property(light, light, light, fc.constantFrom(...gamuts), (X, Y, Z, gamut) => {
        for (const value of show(gamut, [X, Y, Z])) {
          expect(value).toBeGreaterThanOrEqual(0)
          expect(value).toBeLessThanOrEqual(1)
        }
      }),
    )
  })

  test('a diffracted green 20 times brighter than paper keeps its hue', () => {
    const i = 540 - 380
    const xyz: Vector3 = [20 * observer.x[i]!, 20 * observer.y[i]!, 20 * observer.z[i]!]
    for (const gamut of gamuts) {
      const [, a, b] = oklabOf(gamut, show(gamut, xyz))
      const [, a0, b0] = xyzToOklab(xyz)
      expect(Math.abs(hue(a, b) - hue(a0, b0))).toBeLessThan(0.5)
      expect(Math.hypot(a, b)).toBeGreaterThan(0.1)
    }
  })
})
