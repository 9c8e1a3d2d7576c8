import { describe, expect, test } from 'vitest'
import { straightThrough, whiteAreas } from '../../../core/optics/coats.ts'
import {
  filmOver,
  kubelkaMunk,
  opacityOf,
  scatteredOver,
  scatterOf,
  straightThickness,
  throughSurface,
  underSurface,
  whiteFilm,
} from '../../../core/optics/white.ts'

describe('kubelkaMunk', () => {
  // K/S = (1 − R)² / 2R of an endless layer (Kubelka & Munk 1931) solved for K/S = 0.05.
  test('thick layer', () => expect(kubelkaMunk(0.05, 1, 1000).R).toBeCloseTo(0.729844, 6))

  // Worked from the hyperbolic forms (Kubelka 1948).
  test('absorbing layer', () => {
    const layer = kubelkaMunk(0.2, 1, 1)
    expect(layer.R).toBeCloseTo(0.426888, 6)
    expect(layer.T).toBeCloseTo(0.397118, 6)
    expect(filmOver(layer, 0.5)).toBeCloseTo(0.527136, 6)
  })

  test('layer that does not absorb', () => {
    const layer = kubelkaMunk(0, 1, 1)
    expect(layer).toEqual({ R: 0.5, T: 0.5 })
    expect(filmOver(layer, 0.5)).toBeCloseTo(0.666667, 6)
    for (const S of [0.01, 0.4, 3, 80]) {
      const { R, T } = kubelkaMunk(0, S, 1)
      expect(R + T).toBeCloseTo(1, 14)
      const nearly = kubelkaMunk(1e-9, S, 1)
      expect(nearly.R).toBeCloseTo(R, 5)
    }
    expect(kubelkaMunk(0.7, 0, 2)).toEqual({ R: 0, T: Math.exp(-1.4) })
  })

  test('two layers are one of both thicknesses', () => {
    const [one, two] = [kubelkaMunk(0.1, 0.8, 1), kubelkaMunk(0.1, 0.8, 2)]
    expect(filmOver(one, one.R)).toBeCloseTo(two.R, 12)
  })
})

describe('opacity of a white', () => {
  // Contrast ratio over 0.89, read through an air surface (k1 0.04, k2 0.596), inverted to the film by Kubelka–Munk
  // layering: film reflectance, double-trip share, and the ratio after a second hit, as worked for the trade table.
  test.each([
    [0.3, 0.489, 0.261, 0.47],
    [0.4, 0.595, 0.164, 0.58],
    [0.5, 0.683, 0.1, 0.68],
    [0.55, 0.723, 0.077, 0.72],
    [0.6, 0.759, 0.058, 0.76],
    [0.7, 0.825, 0.031, 0.84],
    [0.8, 0.883, 0.014, 0.9],
    [0.85, 0.909, 0.008, 0.93],
    [0.9, 0.935, 0.004, 0.96],
    [0.95, 0.962, 0.001, 0.98],
  ])('%d: r %d, t² %d, two hits %d', (opacity, r, t2, twoHits) => {
    const film = whiteFilm(scatterOf(opacity))
    expect(Math.abs(film.R - r)).toBeLessThanOrEqual(6e-4)
    expect(Math.abs(film.T ** 2 - t2)).toBeLessThanOrEqual(6e-4)
    expect(Math.abs(opacityOf(2 * scatterOf(opacity)) - twoHits)).toBeLessThanOrEqual(0.006)
  })

  // The instrument itself: seen over black, seen over a chart that reads 0.89. Reads back what was entered.
  test('round trip', () => {
    for (let opacity = 0.01; opacity < 1; opacity += 0.01) {
      const film = whiteFilm(scatterOf(opacity))
      const black = throughSurface(filmOver(film, 0), 0.96)
      const white = throughSurface(filmOver(film, underSurface(0.89, 0.96)), 0.96)
      expect(Math.abs(black / white - opacity)).toBeLessThan(1e-9)
    }
    expect(throughSurface(underSurface(0.89, 0.96), 0.96)).toBeCloseTo(0.89, 14)
  })

  // Layering law without an air surface: r 0.5, t 0.45 over 0.89 and over black.
  test('film with loss', () => {
    const film = { R: 0.5, T: 0.45 }
    expect(filmOver(film, 0.89)).toBeCloseTo(0.82473, 5)
    expect(filmOver(film, 0) / filmOver(film, 0.89)).toBeCloseTo(0.6063, 4)
  })

  // What a straight ray keeps after both crossings, for whites of 0.10, 0.20, 0.33, 0.50 over black (film alone).
  test.each([
    [0.1, 0.48],
    [0.2, 0.19],
    [0.33, 0.036],
    [0.5, 0.001],
  ])('a film that reflects %d leaves %d of a ray', (r, left) => {
    const scatter = r / (1 - r)
    const digit = left < 0.01 ? 0.0005 : left < 0.1 ? 0.0025 : 0.005
    expect(Math.abs(Math.exp(-2 * straightThickness(scatter)) - left)).toBeLessThan(digit)
  })
})

describe('screens', () => {
  const plate = (coverage: number, opacity: number, hits = 1) => ({ coverage, opacity, hits })

  test('areas of two plates sum to 1 and strengths add', () => {
    const areas = whiteAreas([plate(0.3, 0.5), plate(0.6, 0.4, 2)])
    expect(areas.reduce((sum, a) => sum + a.area, 0)).toBeCloseTo(1, 14)
    expect(areas.at(-1)).toMatchObject({
      area: expect.closeTo(0.18, 12),
      scatter: expect.closeTo(scatterOf(0.5) + 2 * scatterOf(0.4), 12),
    })
  })

  test('nothing straight passes a perfect white, all passes its gaps', () => {
    expect(straightThrough(whiteAreas([plate(1, 1)]), 2)).toBe(0)
    expect(straightThrough(whiteAreas([plate(0.25, 1)]), 2)).toBeCloseTo(0.75, 14)
    expect(straightThrough(whiteAreas([]), 2)).toBe(1)
  })

  test('scattered and straight together are what the layering law gives', () => {
    const scatter = scatterOf(0.5)
    const straight = Math.exp(-2 * straightThickness(scatter))
    expect(scatteredOver(scatter, 0.86, straight) + 0.86 * straight).toBeCloseTo(
      filmOver(whiteFilm(scatter), 0.86),
      14,
    )
    expect(scatteredOver(0, 0.86, 1)).toBe(0)
  })
})
