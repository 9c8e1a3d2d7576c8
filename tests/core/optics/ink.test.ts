import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { type Lab, xyzToLab } from '../../../core/color/lab.ts'
import { illuminantSpectrum, illuminantWhite, spectrumToXyz } from '../../../core/color/spectrum.ts'
import { primaries } from '../../../core/data/primaries.ts'
import { demichel, dotMean, inksOf, spotTransmittance } from '../../../core/optics/ink.ts'
import { inkPath, plainPrinting } from '../../../core/optics/print.ts'
import fogra39 from '../../fixtures/optics/fogra39-tints.json'

const light = illuminantSpectrum('D50')
const white = illuminantWhite('D50')

/** L*a*b* under D50 of a filter that light crosses twice over the board. */
function onBoard(twice: Float64Array): Lab {
  const { board } = inksOf()
  return xyzToLab(spectrumToXyz(light.map((v, i) => v * board[i]! * twice[i]!)), white)
}

function printed(cmyk: readonly [number, number, number, number]): Lab {
  const { board } = inksOf()
  const path = inkPath({ cmyk, spots: [] }, plainPrinting, 2, 'D50')
  return xyzToLab(path.scattered(light.map((v, i) => v * board[i]!)), white)
}

describe('primaries', () => {
  test('hold every row of their source, in binary order of C, M, Y, K', () => {
    const url = new URL('../../../core/data/source/fogra39-primaries.json', import.meta.url)
    const { rows } = JSON.parse(readFileSync(url, 'utf8')) as { rows: number[][] }
    expect(rows).toHaveLength(16)
    for (const [p, row] of rows.entries()) {
      expect(row.slice(0, 4)).toEqual([0, 1, 2, 3].map(bit => ((p >> bit) & 1) * 100))
      expect(primaries[p]).toEqual(row.slice(4))
    }
  })
})

describe('process inks on white board', () => {
  // FOGRA39L (2006): all 16 full tones and overprints. The spectra are solved at 10 nm nodes, where board and ink are
  // straight each but not their product: 0.13 ΔE00 at most.
  test.each(primaries.map((lab, p) => [p, ...lab] as const))('primary %i is %d %d %d', (p, ...lab) => {
    const cmyk = [p & 1, (p >> 1) & 1, (p >> 2) & 1, (p >> 3) & 1] as const
    expect(deltaE2000(printed(cmyk), lab)).toBeLessThan(0.15)
  })

  test('are filters: between 0 and 1, and as smooth as offset inks are', () => {
    for (const t of inksOf().primaries) {
      expect(Math.min(...t)).toBeGreaterThan(0.05)
      expect(Math.max(...t)).toBeLessThanOrEqual(1 + 1e-12)
      for (let i = 10; i < t.length; i++) expect(Math.abs(t[i]! - t[i - 10]!)).toBeLessThan(0.35)
    }
  })

  // FOGRA39L tints, which were not used to make the inks: the press's dot gain comes out of light that wanders between
  // dots. Printing tolerances for solids are 5 ΔE; a mean of 0.5 and 1 is what this model was measured at.
  test.each([
    ['tints', 0.6, 1.7],
    ['mixes', 1.2, 2.7],
  ] as const)('%s agree with the press', (set, mean, worst) => {
    const errors = fogra39[set].map(([c, m, y, k, L, a, b]) =>
      deltaE2000(printed([c! / 100, m! / 100, y! / 100, k! / 100]), [L!, a!, b!]),
    )
    expect(errors.length).toBeGreaterThan(70)
    expect(errors.reduce((sum, e) => sum + e, 0) / errors.length).toBeLessThan(mean)
    expect(Math.max(...errors)).toBeLessThan(worst)
  })
})

describe('halftones', () => {
  test('areas of the primaries sum to 1', () => {
    const areas = demichel([0.2, 0.5, 0.9, 0.1], new Float64Array(16))
    expect(areas.reduce((sum, a) => sum + a, 0)).toBeCloseTo(1, 14)
    expect(areas[0b0111]).toBeCloseTo(0.2 * 0.5 * 0.9 * 0.9, 14)
  })

  // Murray–Davies (1936) and Yule–Nielsen (1951) for half the area under a density of 1.5, worked.
  test('Murray–Davies and Yule–Nielsen', () => {
    const ink = 10 ** -1.5
    expect(dotMean([0.5, 0.5], [1, ink], 1)).toBeCloseTo(0.515811, 6)
    expect(-Math.log10(dotMean([0.5, 0.5], [1, ink], 1))).toBeCloseTo(0.287509, 6)
    expect(dotMean([0.5, 0.5], [1, ink], 2)).toBeCloseTo(0.34682, 5)
    expect(-Math.log10(dotMean([0.5, 0.5], [1, ink], 2))).toBeCloseTo(0.459896, 5)
    expect(dotMean([0.5, 0.5], [0.85, 0.05], 2)).toBeCloseTo(0.32808, 5)
  })

  test('on metal every dot is on its own: t^s averaged', () => {
    const { primaries: t } = inksOf()
    const path = inkPath({ cmyk: [0, 0.4, 0, 0], spots: [] }, plainPrinting, 2.3, 'D50')
    for (const i of [0, 150, 300]) expect(path.straight[i]).toBeCloseTo(0.6 + 0.4 * t[2]![i]! ** 2.3, 14)
  })
})

describe('spot inks', () => {
  test.each([
    [60, 60, 70],
    [50, 0, 0],
    [70, -60, 60],
    [30, 30, -70],
    [40, 60, 20],
  ] as [number, number, number][])('%d %d %d is met on board', (...lab) => {
    const t = spotTransmittance({ lab })
    expect(deltaE2000(onBoard(t.map(v => v * v)), lab)).toBeLessThan(0.3)
    expect(Math.max(...t)).toBeLessThanOrEqual(1 + 1e-12)
  })

  test('an ink without a colour is clear', () => {
    expect(spotTransmittance({ lab: null }).every(t => t === 1)).toBe(true)
  })

  test('a colour that no ink can have becomes the nearest in its hue that one can', () => {
    for (const lab of [
      [99, 0, 0],
      [90, 80, 0],
      [60, 0, -127],
      [0, 0, 0],
    ] as Lab[]) {
      const t = spotTransmittance({ lab })
      expect(t.every(v => v > 0 && v <= 1 + 1e-12)).toBe(true)
      expect(Math.abs(onBoard(t.map(v => v * v))[0] - Math.min(lab[0], 95))).toBeLessThan(1.1)
    }
  })
})
