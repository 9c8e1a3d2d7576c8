import { describe, expect, test } from 'vitest'
import {
  illuminantSpectrum,
  illuminantWhite,
  observer,
  sampleCount,
  spectrumToXyz,
} from '../../../core/color/spectrum.ts'
import { chromaticity, whiteD50, whiteD65 } from '../../../core/color/xyz.ts'
import { illuminants } from '../../../core/data/illuminants.ts'

describe('illuminantSpectrum', () => {
  test.each(Object.keys(illuminants) as (keyof typeof illuminants)[])('%s gives white Y = 1', name => {
    const spectrum = illuminantSpectrum(name)
    expect(spectrum).toHaveLength(401)
    expect(Math.abs(spectrumToXyz(spectrum)[1] - 1)).toBeLessThan(1e-14)
    expect(Math.min(...spectrum)).toBeGreaterThanOrEqual(0)
  })

  test('keeps the ratios of the table and is straight between its rows', () => {
    const spectrum = illuminantSpectrum('D65')
    expect(spectrum[20]! / spectrum[180]!).toBeCloseTo(82.7549 / 100, 12)
    expect(spectrum[22]!).toBeCloseTo(spectrum[20]! * 0.6 + spectrum[25]! * 0.4, 12)
    expect(spectrum[400]! / spectrum[180]!).toBeCloseTo(illuminants.D65[80]! / 100, 12)
  })
})

describe('white points', () => {
  // CIE 015:2018, table 5 (Y = 100). The standard sums 5 nm values; ours are sums of 1 nm values of the same
  // table, which moves Z of D65 by 0.022: hence 0.025 of 100.
  test.each([
    ['A', [1.0985, 1, 0.35585]],
    ['D50', whiteD50],
    ['D65', whiteD65],
  ] as const)('%s XYZ', (name, published) => {
    illuminantWhite(name).forEach((value, i) => {
      expect(Math.abs(value - published[i]!)).toBeLessThan(2.5e-4)
    })
  })

  // The same table and CIE 015:2018, table 11, for the LED illuminants (four decimals).
  test.each([
    ['A', 0.44758, 0.40745],
    ['D50', 0.3457, 0.3585],
    ['D65', 0.3127, 0.329],
    ['LED-B1', 0.456, 0.4078],
    ['LED-B3', 0.3756, 0.3723],
    ['LED-B5', 0.3118, 0.3236],
    ['LED-V1', 0.4548, 0.4044],
  ] as const)('%s chromaticity', (name, x, y) => {
    const [ourX, ourY] = chromaticity(illuminantWhite(name))
    // 1 nm sums against 5 nm sums: up to 0.0003 for the spiky LED spectra, 0.00006 for smooth ones.
    const tolerance = name.startsWith('LED') ? 3e-4 : 6e-5
    expect(Math.abs(ourX - x)).toBeLessThan(tolerance)
    expect(Math.abs(ourY - y)).toBeLessThan(tolerance)
  })
})

describe('spectral locus', () => {
  // CIE 015:2018, table T.4: chromaticity of single wavelengths, printed to 5 decimals.
  test.each([
    [450, 0.15664, 0.0177],
    [520, 0.0743, 0.8338],
    [600, 0.62704, 0.37249],
    [700, 0.73469, 0.26531],
  ])('%i nm', (nm, x, y) => {
    const line = new Float64Array(sampleCount)
    line[nm - 380] = 1
    const [ourX, ourY] = chromaticity(spectrumToXyz(line))
    expect(Math.abs(ourX - x)).toBeLessThanOrEqual(5.1e-6)
    expect(Math.abs(ourY - y)).toBeLessThanOrEqual(5.1e-6)
  })

  test('the brightest wavelength is 555 nm', () => {
    expect(observer.y.indexOf(1)).toBe(555 - 380)
  })
})
