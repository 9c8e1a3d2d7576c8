import { describe, expect, test } from 'vitest'
import { fresnel } from '../../../core/optics/fresnel.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import { contrastOf, wedgeFit } from '../../../core/optics/opacity.ts'
import { direction } from '../../../core/optics/rays.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { opacityOf, scatterOf } from '../../../core/optics/white.ts'
import { foil, raysOf, sinusoid, tilted, toward } from '../../support/optics.ts'

const white = (coverage: number, opacity: number, hits = 1, more: Partial<Stack['whites'][number]> = {}) => ({
  coverage,
  opacity,
  hits,
  ...more,
})

/** A 45/0 instrument, gloss left out: Y over perfect white, straight from the slow truth. */
function reads(whites: Stack['whites'], chart: number, more: Partial<Stack> = {}): number {
  const rays = {
    lamp: direction(0, Math.PI / 4),
    eye: direction(0, Math.PI / 2),
    lampSpread: 0.01,
    eyeSpread: 0.01,
  }
  return seen({ ...foil(), metal: 0, whites, chart, ...more }, rays, 'D50', defaultBoard).diffuse[1]
}

describe('a white probed over black and over 0.89', () => {
  // ASTM D589 / TAPPI T425: opacity = 100 R over black / R over 0.89. What is entered is read back; asked for: within 1 %.
  test.each([0.05, 0.3, 0.45, 0.6, 0.75, 0.9, 0.99])('opacity %d reads back', opacity => {
    const plates = [white(1, opacity)]
    expect(Math.abs(reads(plates, 0) / reads(plates, 0.89) / opacity - 1)).toBeLessThan(1e-9)
  })

  test.each([0.1, 0.3, 0.5, 0.7, 0.9])('reflectance over black %d reads back', value => {
    const plates = [white(1, contrastOf({ from: 'overBlack', value }))]
    expect(Math.abs(reads(plates, 0) / value - 1)).toBeLessThan(1e-6)
  })

  // Contrast ratio after a second identical hit; printed to whole per cent.
  test.each([
    [0.3, 0.47],
    [0.4, 0.58],
    [0.5, 0.68],
    [0.55, 0.72],
    [0.6, 0.76],
    [0.7, 0.84],
    [0.8, 0.9],
    [0.85, 0.93],
    [0.9, 0.96],
    [0.95, 0.98],
  ])('%d printed twice reads %d, as one plate of two hits and as two plates', (opacity, twice) => {
    const one = [white(1, opacity, 2)]
    const two = [white(1, opacity), white(1, opacity)]
    for (const plates of [one, two])
      expect(Math.abs(reads(plates, 0) / reads(plates, 0.89) - twice)).toBeLessThanOrEqual(0.006)
    expect(reads(one, 0)).toBeCloseTo(reads(two, 0), 12)
  })

  test('nothing, and perfect', () => {
    expect(reads([white(1, 0)], 0)).toBe(0)
    expect(reads([white(1, 0)], 0.89)).toBeCloseTo(reads([], 0.89), 14)
    // A perfect white hides the chart: it reads what enters its surface at 45°.
    expect(reads([white(1, 1)], 0)).toBeCloseTo(1 - fresnel(Math.SQRT1_2, 1.5), 5)
    expect(reads([white(1, 1)], 0) / reads([white(1, 1)], 0.89)).toBeCloseTo(1, 5)
    expect(contrastOf({ from: 'overBlack', value: 0.96 })).toBe(1)
  })
})

describe('a wedge of hits', () => {
  test('made from one strength is found again, without residuals', () => {
    const patches = [1, 2, 3, 4].map(hits => ({ hits, contrast: opacityOf(hits * scatterOf(0.52)) }))
    const { contrast, rms } = wedgeFit(patches)
    expect(contrast).toBeCloseTo(0.52, 6)
    expect(rms).toBeLessThan(1e-7)
    expect(contrastOf({ from: 'wedge', patches })).toBe(contrast)
  })

  test('with reading errors settles between them, and says how far off each is', () => {
    const errors = [0.01, -0.01, 0.01, -0.01]
    const patches = [1, 2, 3, 4].map((hits, i) => ({
      hits,
      contrast: opacityOf(hits * scatterOf(0.5)) + errors[i]!,
    }))
    const fit = wedgeFit(patches)
    expect(Math.abs(fit.contrast - 0.5)).toBeLessThan(0.012)
    expect(fit.rms).toBeLessThanOrEqual(0.0101)
    // Least squares: no other strength is nearer.
    const square = (contrast: number) =>
      patches.reduce((sum, p) => sum + (p.contrast - opacityOf(p.hits * scatterOf(contrast))) ** 2, 0)
    for (const off of [-0.002, 0.002])
      expect(square(fit.contrast + off)).toBeGreaterThan(square(fit.contrast))
  })
})

describe('haze or flash', () => {
  const lit = tilted(0)
  const over = (whites: Stack['whites'], more: Partial<Stack> = {}) =>
    seen({ ...foil(sinusoid), whites, ...more }, lit, 'D65', defaultBoard)
  const bare = over([]).diffracted[1]

  // A solid of 47 % opacity and the half screen of a perfect white hide about as much; only the screen has gaps.
  test('a screened white keeps its sparkle, a solid one of the same opacity is hazy', () => {
    const screened = [white(0.5, 1)]
    const read = (plates: Stack['whites']) => reads(plates, 0) / reads(plates, 0.89)
    const solid = [white(1, read(screened))]
    expect(read(solid)).toBeCloseTo(read(screened), 6)
    expect(over(screened).diffracted[1] / bare).toBeCloseTo(0.5, 12)
    // exp(−τ s) of a film of that contrast ratio: below a tenth of a per cent of the rainbow is left.
    expect(over(solid).diffracted[1] / bare).toBeLessThan(1e-3)
    expect(over(solid).diffuse[1]).toBeGreaterThan(over(screened).diffuse[1])
  })

  test('coverage is an area, or one thinner film where the plate is even', () => {
    for (const coverage of [0.2, 0.5, 0.8]) {
      const dots = over([white(coverage, 0.5)]).diffracted[1] / bare
      const even = over([white(coverage, 0.5, 1, { screen: 'even' })]).diffracted[1] / bare
      const solid = over([white(1, 0.5)]).diffracted[1] / bare
      expect(dots).toBeCloseTo(1 - coverage + coverage * solid, 12)
      expect(even).toBeCloseTo(solid ** coverage, 12)
      expect(even).toBeLessThan(dots)
    }
    const full = [white(1, 0.5)]
    expect(over([white(1, 0.5, 1, { screen: 'even' })])).toEqual(over(full))
    expect(over([white(0, 0.5, 1, { screen: 'even' })]).diffracted[1]).toBe(bare)
  })

  test('mottle makes a coat stronger and weaker by place, and never less than nothing', () => {
    const uneven = (unevenness: number, mottle = 0.3) => over([white(1, 0.3, 1, { mottle })], { unevenness })
    const even = over([white(1, 0.3)])
    expect(uneven(0)).toEqual(even)
    expect(uneven(2, 0)).toEqual(even)
    expect(uneven(1).diffracted[1]).toBeLessThan(even.diffracted[1])
    expect(uneven(-1).diffracted[1]).toBeGreaterThan(even.diffracted[1])
    // One and a half times the strength is one and a half hits: straight light falls by the power.
    const solid = even.diffracted[1] / bare
    expect(over([white(1, 0.3, 1, { mottle: 0.5 })], { unevenness: 1 }).diffracted[1] / bare).toBeCloseTo(
      solid ** 1.5,
      12,
    )
    expect(uneven(-3, 0.5).diffracted[1]).toBe(bare)
  })

  test('a pigment that scatters more forwards leaves less of the rainbow and the same opacity', () => {
    const look = (forwardness: number) =>
      seen({ ...foil(sinusoid), whites: [white(1, 0.2)] }, lit, 'D65', { ...defaultBoard, forwardness })
    // τ = 4 S·d / 3 (1 − g): logarithms as 1 / (1 − g).
    const left = (g: number) => Math.log(look(g).diffracted[1] / bare)
    expect(left(0.8) / left(0.6)).toBeCloseTo(2, 10)
    expect(left(0) / left(0.6)).toBeCloseTo(0.4, 10)
  })

  // Scattered and straight light of a film over foil together are what the film throws back at all.
  test('what is taken from the straight light is not lost, and none is made', () => {
    for (const opacity of [0.1, 0.3, 0.5, 0.8]) {
      const plates = [white(1, opacity)]
      const there = underLamp(
        seen({ ...foil(), whites: plates }, raysOf(toward(20), toward(5)), 'D65', defaultBoard),
      )
      expect(there[1]).toBeLessThanOrEqual(1)
    }
  })
})
