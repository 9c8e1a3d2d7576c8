import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { adaptation } from '../../../core/color/adapt.ts'
import { labToXyz, xyzToLab } from '../../../core/color/lab.ts'
import { apply, invert, type Matrix3, multiply, type Vector3 } from '../../../core/color/matrix.ts'
import { oklabToXyz, xyzToOklab } from '../../../core/color/oklab.ts'
import { decode, encode, encodeFast, rgbSpaces } from '../../../core/color/rgb.ts'
import { whiteD50, whiteD65, whiteDisplay } from '../../../core/color/xyz.ts'

/** Doubles carry 15 digits; a few operations on numbers near 1 keep 12. */
const exact = 1e-12

function near(actual: readonly number[], expected: readonly number[], tolerance: number) {
  expected.forEach((value, i) => {
    expect(Math.abs(actual[i]! - value)).toBeLessThanOrEqual(tolerance)
  })
}

const oracle = (from: string, to: string, coords: Vector3): number[] =>
  new Color(from, [...coords]).to(to).coords.map(Number)

const unit = fc.double({ min: 0, max: 1, noNaN: true })
const anyColor = fc.tuple(unit, unit, unit)

describe('matrix', () => {
  test('a matrix times its inverse is the unit matrix', () => {
    const m = rgbSpaces.srgb.toXyz
    near(multiply(m, invert(m)), [1, 0, 0, 0, 1, 0, 0, 0, 1], exact)
  })
  test('refuses to invert a flat matrix', () => {
    expect(() => invert([1, 2, 3, 2, 4, 6, 0, 0, 1])).toThrow('determinant 0')
  })
})

describe('CIELAB', () => {
  // CIE 015:2018, section 8.2.1: L* 50 lies at Y/Yn = ((50+16)/116)³.
  test('lightness of mid grey', () => {
    expect(xyzToLab([0, 0.1841865, 0], [1, 1, 1])[0]).toBeCloseTo(50, 5)
    expect(xyzToLab([0, 0.18, 0], [1, 1, 1])[0]).toBeCloseTo(49.496, 3)
  })
  // Characterisation data FOGRA39L, solid cyan: XYZ and Lab (D50), both printed to 2 decimals.
  test('printed cyan', () => {
    near(xyzToLab([15.02, 22.93, 52.85], [96.42, 100, 82.49]), [55, -37, -50], 0.02)
  })
  test('agrees with colorjs.io', () => {
    // colorjs.io takes the D50 white from its chromaticity, x 0.3457 y 0.3585.
    const white: Vector3 = [0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585]
    fc.assert(
      fc.property(anyColor, xyz => {
        near(xyzToLab(xyz, white), oracle('xyz-d50', 'lab', xyz), 1e-9)
      }),
    )
  })
  test('there and back', () => {
    fc.assert(
      fc.property(anyColor, xyz => {
        near(labToXyz(xyzToLab(xyz, whiteD50), whiteD50), xyz, exact)
      }),
    )
  })
})

describe('RGB', () => {
  // IEC 61966-2-1:1999, section 5.3: the matrix, printed to 4 decimals.
  test('sRGB to XYZ as printed', () => {
    near(
      rgbSpaces.srgb.toXyz,
      [0.4124, 0.3576, 0.1805, 0.2126, 0.7152, 0.0722, 0.0193, 0.1192, 0.9505],
      5.1e-5,
    )
  })
  // CSS Color Module Level 4, section 18.
  test('Display-P3 to XYZ as published', () => {
    near(
      rgbSpaces['display-p3'].toXyz,
      [
        0.4865709486, 0.2656676932, 0.1982172852, 0.2289745641, 0.6917385218, 0.0792869141, 0, 0.0451133819,
        1.043944369,
      ],
      5.1e-10,
    )
  })
  test.each(['srgb', 'display-p3'] as const)('%s white is 1, 1, 1', gamut => {
    near(apply(rgbSpaces[gamut].fromXyz, whiteDisplay), [1, 1, 1], exact)
  })
  test.each([
    ['srgb', 'srgb-linear'],
    ['display-p3', 'p3-linear'],
  ] as const)('%s agrees with colorjs.io', (gamut, name) => {
    fc.assert(
      fc.property(anyColor, xyz => {
        near(apply(rgbSpaces[gamut].fromXyz, xyz), oracle('xyz-d65', name, xyz), exact * 10)
      }),
    )
  })
  // IEC 61966-2-1:1999, section 5.2, worked by hand.
  test('transfer curve', () => {
    expect(encode(0.18)).toBeCloseTo(0.461356, 6)
    expect(encode(0.5)).toBeCloseTo(0.735357, 6)
    expect(decode(0.5)).toBeCloseTo(0.214041, 6)
    expect(decode(0.04045)).toBeCloseTo(0.0031308, 7)
    expect(encode(0)).toBe(0)
    expect(encode(1)).toBeCloseTo(1, 12)
  })
  test('transfer curve agrees with colorjs.io, negative light included', () => {
    fc.assert(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), value => {
        near([encode(value)], oracle('srgb-linear', 'srgb', [value, value, value]).slice(0, 1), exact)
      }),
    )
  })
  test('the fast curve is the curve, within a quarter of a 16-bit step', () => {
    let worst = 0
    for (let i = 0; i <= 99_991; i++) {
      const linear = i / 99_991
      worst = Math.max(worst, Math.abs(encodeFast(linear) - encode(linear)))
    }
    expect(worst).toBeLessThan(0.25 / 65535)
    expect(encodeFast(0)).toBe(0)
    expect(encodeFast(1)).toBe(encode(1))
  })

  test('decode undoes encode', () => {
    fc.assert(
      fc.property(fc.double({ min: -1, max: 1, noNaN: true }), value => {
        // The standard's two thresholds are rounded and leave a step of 3e-8 of light between them.
        near([decode(encode(value))], [value], 3e-8)
      }),
    )
  })
})

describe('adaptation', () => {
  test('takes white to white', () => {
    near(apply(adaptation(whiteD50, whiteD65), whiteD50), whiteD65, exact)
  })
  // The adaptation matrix that sRGB profiles carry (ICC.1:2022, chromaticAdaptationTag), six decimals from memory;
  // the whites are rounded to four decimals: 1e-4 is their last digit.
  test('D65 to D50 as profiles carry it', () => {
    const published: Matrix3 = [
      1.047882, 0.022918, -0.050217, 0.029586, 0.990479, -0.017059, -0.009247, 0.015076, 0.751678,
    ]
    near(adaptation([0.9505, 1, 1.0891], [0.9642, 1, 0.8249]), published, 1e-4)
  })
  test('agrees with colorjs.io', () => {
    const d50: Vector3 = [0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585]
    fc.assert(
      fc.property(anyColor, xyz => {
        near(apply(adaptation(whiteDisplay, d50), xyz), oracle('xyz-d65', 'xyz-d50', xyz), 1e-9)
      }),
    )
  })
})

describe('Oklab', () => {
  // Ottosson, "A perceptual color space for image processing" (2020), table of test pairs, 3 decimals.
  test.each([
    [
      [0.95, 1, 1.089],
      [1, 0, 0],
    ],
    [
      [1, 0, 0],
      [0.45, 1.236, -0.019],
    ],
    [
      [0, 1, 0],
      [0.922, -0.671, 0.263],
    ],
    [
      [0, 0, 1],
      [0.153, -1.415, -0.449],
    ],
  ] as const)('%j', (xyz, lab) => {
    // The matrices in use were recomputed since for a consistent white: 1e-3 more than the printed half digit.
    near(xyzToOklab(xyz), lab, 1.5e-3)
  })
  test('agrees with colorjs.io', () => {
    fc.assert(
      fc.property(anyColor, xyz => {
        near(xyzToOklab(xyz), oracle('xyz-d65', 'oklab', xyz), 1e-9)
      }),
    )
  })
  test('there and back', () => {
    fc.assert(
      fc.property(anyColor, xyz => {
        near(oklabToXyz(xyzToOklab(xyz)), xyz, 1e-10)
      }),
    )
  })
})
