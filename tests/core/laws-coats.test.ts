import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { demichel, dotMean } from '../../core/optics/ink.ts'
import { defaultBoard } from '../../core/optics/scene.ts'
import { seen, underLamp } from '../../core/optics/stack.ts'
import {
  filmOver,
  kubelkaMunk,
  opacityOf,
  scatterOf,
  throughSurface,
  underSurface,
  whiteFilm,
} from '../../core/optics/white.ts'
import { foil, raysOf, sinusoid } from '../support/optics.ts'
import { anyCmyk, anyDirection, number } from './law-cases.ts'

const seeded = { seed: 20264, numRuns: 200 }
/** Nothing, or an amount that a layer can have. */
const strength = (most: number) => fc.oneof(fc.constant(0), number(1e-6, most))
const few = { seed: 20265, numRuns: 25 }

describe('laws of layers', () => {
  test('energy: a layer never returns and passes more than it gets, and all of it where nothing is absorbed', () => {
    fc.assert(
      fc.property(strength(3), strength(20), (K, S) => {
        const { R, T } = kubelkaMunk(K, S, 1)
        expect(R).toBeGreaterThanOrEqual(0)
        expect(T).toBeGreaterThanOrEqual(0)
        expect(R + T).toBeLessThanOrEqual(1 + 1e-12)
        const lossless = kubelkaMunk(0, S, 1)
        expect(lossless.R + lossless.T).toBeCloseTo(1, 12)
      }),
      seeded,
    )
  })

  test('two half hits are one whole: layers stack like one of both thicknesses', () => {
    fc.assert(
      fc.property(number(0, 1), number(0.01, 5), number(0.05, 0.95), number(0, 1), (K, S, part, backing) => {
        const upper = kubelkaMunk(K, S, part)
        const lower = kubelkaMunk(K, S, 1 - part)
        const whole = filmOver(kubelkaMunk(K, S, 1), backing)
        expect(filmOver(upper, filmOver(lower, backing))).toBeCloseTo(whole, 9)
      }),
      seeded,
    )
  })

  test('no film turns a white backing brighter than white, and none turns a black one darker', () => {
    fc.assert(
      fc.property(number(0, 50), number(0, 1), (S, backing) => {
        const over = filmOver(whiteFilm(S), backing)
        expect(over).toBeLessThanOrEqual(1 + 1e-12)
        expect(over).toBeGreaterThanOrEqual(backing - 1e-12)
      }),
      seeded,
    )
  })

  test('opacity: what was entered is what the instrument reads, through the surface, within 1 %', () => {
    fc.assert(
      fc.property(number(0.01, 0.99), opacity => {
        const film = whiteFilm(scatterOf(opacity))
        const black = throughSurface(filmOver(film, 0), 0.96)
        const chart = throughSurface(filmOver(film, underSurface(0.89, 0.96)), 0.96)
        expect(Math.abs(black / chart - opacity)).toBeLessThan(0.01)
        expect(opacityOf(scatterOf(opacity))).toBeCloseTo(opacity, 9)
      }),
      seeded,
    )
  })

  test('another hit only ever hides more', () => {
    fc.assert(
      fc.property(number(0.01, 0.99), fc.integer({ min: 1, max: 5 }), (opacity, hits) => {
        const scatter = scatterOf(opacity)
        expect(opacityOf((hits + 1) * scatter)).toBeGreaterThan(opacityOf(hits * scatter))
      }),
      seeded,
    )
  })
})

describe('laws of halftones', () => {
  test('the 16 areas sum to 1, and those with an ink to its coverage', () => {
    fc.assert(
      fc.property(anyCmyk, cmyk => {
        const areas = demichel(cmyk, new Float64Array(16))
        expect(areas.reduce((sum, a) => sum + a, 0)).toBeCloseTo(1, 12)
        cmyk.forEach((coverage, ink) => {
          const own = areas.reduce((sum, a, p) => sum + ((p >> ink) & 1 ? a : 0), 0)
          expect(own).toBeCloseTo(coverage, 12)
        })
        for (const a of areas) expect(a).toBeGreaterThanOrEqual(0)
      }),
      seeded,
    )
  })

  test('light that wanders between dots is darkened at least as much as light that does not', () => {
    fc.assert(
      fc.property(number(0, 1), number(0.001, 1), number(1, 2), (area, ink, n) => {
        const areas = [1 - area, area]
        const alone = dotMean(areas, [1, ink], 1)
        const wandering = dotMean(areas, [1, ink], n)
        expect(wandering).toBeLessThanOrEqual(alone + 1e-12)
        expect(wandering).toBeGreaterThanOrEqual(ink - 1e-12)
      }),
      seeded,
    )
  })
})

describe('laws of areas', () => {
  const lit = fc.tuple(anyDirection, anyDirection).map(([lamp, eye]) => raysOf(lamp, eye, 0.02))
  const look = (stack: ReturnType<typeof foil>, rays: ReturnType<typeof raysOf>) =>
    underLamp(seen(stack, rays, 'D65', defaultBoard))
  const mixed = (a: readonly number[], b: readonly number[], part: number) =>
    a.map((v, i) => v * part + b[i]! * (1 - part))
  function expectNear(found: readonly number[], expected: readonly number[]): void {
    for (const [i, v] of expected.entries())
      expect(Math.abs(found[i]! - v)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(v)))
  }

  test('a share of grating is that share of the light of a full one and the rest of a mirror', () => {
    fc.assert(
      fc.property(lit, number(0, 1), (rays, share) => {
        const full = look(foil(sinusoid), rays)
        const none = look(foil(), rays)
        expectNear(look(foil({ ...sinusoid, share }), rays), mixed(full, none, share))
      }),
      few,
    )
  })

  test('a screened white is its coverage of the solid and the rest of the bare foil', () => {
    fc.assert(
      fc.property(lit, number(0, 1), number(0.1, 0.9), (rays, coverage, opacity) => {
        const white = (c: number) => ({ ...foil(sinusoid), whites: [{ coverage: c, opacity, hits: 1 }] })
        expectNear(
          look(white(coverage), rays),
          mixed(look(white(1), rays), look(foil(sinusoid), rays), coverage),
        )
      }),
      few,
    )
  })

  test('partly metallised board is its part of foil and the rest of board', () => {
    fc.assert(
      fc.property(lit, number(0, 1), anyCmyk, (rays, metal, cmyk) => {
        const board = (m: number) => ({ ...foil(sinusoid), metal: m, cmyk })
        expectNear(look(board(metal), rays), mixed(look(board(1), rays), look(board(0), rays), metal))
      }),
      few,
    )
  })
})
