import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { type DisplaySettings, displayColor, displayTransform } from '../../../core/color/display.ts'
import { gamutSlack, gamutSteps, reduceChroma } from '../../../core/color/gamut.ts'
import { apply, multiply, type Vector3 } from '../../../core/color/matrix.ts'
import { conesToXyz, xyzToOklab } from '../../../core/color/oklab.ts'
import { overBand, overScreen } from '../../../core/color/over-screen.ts'
import { decode, encode, type Gamut, rgbSpaces } from '../../../core/color/rgb.ts'
import { illuminantWhite, observer } from '../../../core/color/spectrum.ts'
import {
  ceiling,
  judgedLuminance,
  judgedWeights,
  knee,
  lift,
  shownLuminance,
  toJudged,
  tone,
} from '../../../core/color/tone.ts'
import { chromaticity, whiteD50, whiteDisplay } from '../../../core/color/xyz.ts'

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
      expect(tone(m)).toBeLessThan(ceiling)
      last = tone(m)
    }
  })
})

describe('shownLuminance', () => {
  const judgedOf = (xyz: Vector3) => apply(toJudged, xyz)

  test('its parts of white are white, and red and green carry all of the luminance', () => {
    for (const part of [...judgedOf(whiteDisplay), judgedWeights[0] + judgedWeights[1]])
      expect(part).toBeCloseTo(1, 12)
    const [r, g] = judgedOf([0.3, 0.4, 0.9])
    expect(judgedLuminance(r, g)).toBeCloseTo(0.4, 12)
  })

  test('a white highlight rises to the screen’s white, a yellow one to the yellow of sRGB', () => {
    for (let m = 0.01; m < 1e6; m *= 1.1) {
      expect(shownLuminance(1.1 * m, 1.1 * m, 1.1 * m)).toBeGreaterThan(shownLuminance(m, m, m))
      expect(lift(1.1 * m)).toBeGreaterThanOrEqual(lift(m))
    }
    expect(shownLuminance(1e9, 1e9, 1e9)).toBeCloseTo(1, 6)
    // IEC 61966-2-1: 0.2126 + 0.7152, that of full red and green.
    expect(Math.abs(ceiling - 0.9278)).toBeLessThan(0.01)
  })

  test.each(gamuts)('%s lights have no part below 0 or above the largest', space => {
    for (const coords of [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const) {
      const [X, Y, Z] = new Color(space === 'display-p3' ? 'p3' : space, [...coords]).to('xyz-d65').coords
      const [red, green] = judgedOf([Number(X), Number(Y), Number(Z)])
      // Exactly inside: the primaries are printed to 2 or 3 digits, and the nearest edge is 3e-4 of a part away.
      expect(Math.min(red, green)).toBeGreaterThan(0)
      expect(Math.max(red, green)).toBeLessThan(1)
    }
  })

  test('is the light’s own luminance up to paper white', () => {
    const part = fc.double({ min: 0, max: knee, noNaN: true })
    fc.assert(
      fc.property(part, part, part, (r, g, b) => {
        const xyz = apply(rgbSpaces['display-p3'].toXyz, [r, g, b])
        // The red of P3 lies 2e-3 outside, so that full cyan has a blue part of 0.8 and a little.
        expect(shownLuminance(...judgedOf(xyz))).toBeCloseTo(xyz[1], 6)
      }),
    )
  })
})

describe('reduceChroma', () => {
  const conesToRgb = (gamut: Gamut) => multiply(rgbSpaces[gamut].fromXyz, conesToXyz)

  test.each(gamuts)('%s: keeps luminance and hue of every spectral colour', gamut => {
    for (let nm = 420; nm <= 680; nm += 2) {
      const i = nm - 380
      const Y = 0.2
      const scale = Y / observer.y[i]!
      const [L, a, b] = xyzToOklab([observer.x[i]! * scale, Y, observer.z[i]! * scale])
      const out = reduceChroma(L, a, b, Y, conesToRgb(gamut), new Float64Array(3))
      const xyz = apply(rgbSpaces[gamut].toXyz, [out[0]!, out[1]!, out[2]!])
      const [L2, a2, b2] = xyzToOklab(xyz)
      // Clipping the slack of 1e-5 of light is what moves them at all.
      expect(Math.abs(xyz[1] - Y)).toBeLessThan(2e-5)
      expect(Math.abs(hue(a2, b2) - hue(a, b))).toBeLessThan(0.5)
      expect(Math.hypot(a2, b2) / L2).toBeLessThan(Math.hypot(a, b) / L)
      // As much chroma as fits: one more step of the search would leave the gamut.
      const more = ((Math.hypot(a2, b2) / L2) * L) / Math.hypot(a, b) + 2 ** -gamutSteps * 1.5
      const wider = new Color('oklab', [L, a * more, b * more])
      const [X3, Y3, Z3] = wider
        .to('xyz-d65')
        .coords.map(value => (Number(value) * Y) / Number(wider.to('xyz-d65').coords[1]))
      const scaled = new Color('xyz-d65', [X3!, Y3!, Z3!])
      expect(scaled.inGamut(gamut === 'srgb' ? 'srgb' : 'p3', { epsilon: gamutSlack })).toBe(false)
    }
  })

  test.each(gamuts)('%s: leaves colours inside alone', gamut => {
    const unit = fc.double({ min: 1e-3, max: 1, noNaN: true })
    fc.assert(
      fc.property(unit, unit, unit, (r, g, b) => {
        const xyz = apply(rgbSpaces[gamut].toXyz, [r, g, b])
        const [L, A, B] = xyzToOklab(xyz)
        const out = reduceChroma(L, A, B, xyz[1], conesToRgb(gamut), new Float64Array(3))
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
      // As near as the curve is read from its table.
      for (const value of rgb) expect(Math.abs(value - encode(0.8))).toBeLessThan(1e-9)
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
          // Linear light is exact to 1e-12; the curve is read from its table, within a quarter of a 16-bit step.
          expect(Math.abs(value - Math.max(0, expected[i]!))).toBeLessThan(0.25 / 65535)
        })
      }),
    )
  })

  test('one stop doubles the light of a dark colour', () => {
    const grey: Vector3 = [whiteDisplay[0] * 0.1, 0.1, whiteDisplay[2] * 0.1]
    expect(decode(show('srgb', grey, 1)[1]!)).toBeCloseTo(2 * decode(show('srgb', grey, 0)[1]!), 7)
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
    }
  })

  const luminanceOf = (gamut: Gamut, rgb: readonly number[]) =>
    apply(rgbSpaces[gamut].toXyz, [decode(rgb[0]!), decode(rgb[1]!), decode(rgb[2]!)])[1]
  /** Of linear light: the slack that clipping takes away, three times 1e-5, and the thresholds of the curve. */
  const clipped = 4e-5

  test('light that is added is never shown darker: any Display-P3 light over any light, to 8 stops over paper', () => {
    const base = fc.tuple(...([0, 1, 2] as const).map(() => fc.double({ min: -9, max: 8, noNaN: true })))
    const light = ([r, g, b]: readonly number[]): Vector3 =>
      apply(rgbSpaces['display-p3'].toXyz, [2 ** r!, 2 ** g!, 2 ** b!])
    fc.assert(
      fc.property(base, base, fc.constantFrom(...gamuts), (one, two, gamut) => {
        const [X, Y, Z] = light(one)
        const [X2, Y2, Z2] = light(two)
        const before = luminanceOf(gamut, show(gamut, [X, Y, Z]))
        expect(luminanceOf(gamut, show(gamut, [X + X2, Y + Y2, Z + Z2]))).toBeGreaterThan(before - clipped)
      }),
      { numRuns: 2000, seed: 5 },
    )
  })

  test('no spectral light over white paper makes it dark; violets, blues, yellows and reds brighten it', () => {
    let least = 1
    for (let nm = 420; nm <= 700; nm += 5)
      for (let stops = -6; stops <= 5; stops += 0.5) {
        const i = nm - 380
        const scale = 2 ** stops / observer.y[i]!
        const paper = luminanceOf('srgb', show('srgb', whiteDisplay))
        const both = luminanceOf(
          'srgb',
          show('srgb', [
            whiteDisplay[0] + scale * observer.x[i]!,
            1 + 2 ** stops,
            whiteDisplay[2] + scale * observer.z[i]!,
          ]),
        )
        if ((nm >= 440 && nm <= 455) || nm >= 575) expect(both, `${nm} nm`).toBeGreaterThan(paper - clipped)
        // From 435 down, five stops over paper would be thousands of times what a grating sends there.
        if (nm >= 440) least = Math.min(least, both)
      }
    // Spectral cyans and greens lie outside the triangle: white under them turns to their colour, L* 91.7 to 84.5 (490 nm).
    expect(least).toBeGreaterThan(0.65)
  })

  test('a lamp that the eye does not adapt to is shown against the white of the screen', () => {
    const seen = (displayWhite: 'D65' | 'D50', adapt: boolean) => {
      const transform = displayTransform({ exposureStops: 0, adapt, gamut: 'srgb', displayWhite }, whiteD50)
      return displayColor(transform, ...whiteD50, new Float64Array(3))
    }
    const [r, , b] = seen('D65', false)
    expect(r! - b!).toBeGreaterThan(0.1)
    for (const code of [...seen('D50', false), ...seen('D50', true), ...seen('D65', true)])
      expect(Math.abs(code - encode(knee))).toBeLessThan(1e-9)
    expect(chromaticity(whiteD50)[0]).toBeGreaterThan(chromaticity(whiteDisplay)[0])
  })

  test('twice the light of the anchor is one stop', () => {
    const white = (exposureStops: number, anchorLux: number | null, lux: number) =>
      displayColor(
        displayTransform({ exposureStops, anchorLux, adapt: true, gamut: 'srgb' }, whiteDisplay, lux),
        0.2 * whiteDisplay[0],
        0.2,
        0.2 * whiteDisplay[2],
        new Float64Array(3),
      )[1]!
    expect(white(0, 500, 1000)).toBeCloseTo(white(1, null, 1000), 12)
    expect(white(0, null, 1000)).toBeCloseTo(white(0, null, 20), 12)
  })
})

describe('overScreen', () => {
  const of = (xyz: Vector3, stops = 0, gamut: Gamut = 'srgb') =>
    overScreen(displayTransform(settings(gamut, stops), whiteDisplay), ...xyz)
  const white = (level: number): Vector3 => [level * whiteDisplay[0], level, level * whiteDisplay[2]]

  test('counts stops from paper white, once the screen’s white is passed', () => {
    expect(of(white(1)).stops).toBe(0)
    expect(of(white(1.24)).stops).toBe(0)
    expect(of(white(8)).stops).toBeCloseTo(3, 12)
    expect(of(white(8), -2).stops).toBeCloseTo(1, 12)
    expect([1, 1.5, 4, 16, 100].map(level => overBand(of(white(level))))).toEqual([0, 1, 2, 3, 4])
  })

  test('tells colours that are too pure for the one screen and not for the other', () => {
    const p3Green: Vector3 = apply(rgbSpaces['display-p3'].toXyz, [0.1, 0.7, 0.1])
    expect(of(p3Green, 0, 'srgb')).toEqual({ stops: 0, outOfGamut: true })
    expect(of(p3Green, 0, 'display-p3')).toEqual({ stops: 0, outOfGamut: false })
    expect(overBand(of(p3Green))).toBe(5)
    expect(of([0, 0, 0])).toEqual({ stops: 0, outOfGamut: false })
  })
})
