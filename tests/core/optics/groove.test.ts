import { describe, expect, test } from 'vitest'
import { shareBeyond } from '../../../core/optics/beyond.ts'
import {
  blazed,
  grooveIndex,
  isSmooth,
  profileSamples,
  rectangular,
  sameGroove,
  sampled,
  sinusoid,
} from '../../../core/optics/groove.ts'
import { facing, groovePhase, orderShare, vectorFactor } from '../../../core/optics/order-share.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen } from '../../../core/optics/stack.ts'
import { foil, sinusoid as grating, raysOf, toward } from '../../support/optics.ts'

/** A profile given by a function of the place in the period, as an instrument would hand it over. */
const measured = (height: (x: number) => number, points = profileSamples) =>
  sampled(
    'measured',
    Array.from({ length: points }, (_, i) => height(i / points)),
  )
const wave = (x: number) => 130 - 40 * Math.cos(2 * Math.PI * x)

describe('a sampled groove', () => {
  test('of a sinusoid is a sinusoid: all orders to the precision of 64 samples', () => {
    const groove = measured(wave)
    expect(isSmooth(groove)).toBe(true)
    for (const φ of [0.4, 1.8, 3.7, 6.1, 12])
      for (let m = -12; m <= 12; m++)
        expect(Math.abs(orderShare(groove, m, φ) - orderShare(sinusoid, m, φ))).toBeLessThan(1e-12)
    expect(vectorFactor(groove, 1, 600, 800, 1.5)).toBe(vectorFactor(sinusoid, 1, 600, 800, 1.5))
  })

  test('from few points runs straight between them', () => {
    // Four points of a triangle are the triangle: its transform sampled finely is the second way.
    const groove = sampled('triangle', [0, 1, 2, 1])
    const N = 8192
    for (const m of [0, 1, 2, -3]) {
      let [re, im] = [0, 0]
      for (let k = 0; k < N; k++) {
        const x = (k + 0.5) / N
        const angle = 2.4 * (1 - Math.abs(2 * x - 1)) - 2 * Math.PI * m * x
        re += Math.cos(angle) / N
        im += Math.sin(angle) / N
      }
      expect(Math.abs(orderShare(groove, m, 2.4) - (re * re + im * im))).toBeLessThan(1e-3)
    }
  })

  test('knows a steep flank', () => {
    expect(isSmooth(measured(x => x))).toBe(false)
    expect(isSmooth(measured(x => (x < 0.4 ? 1 : 0), 1000))).toBe(false)
    expect(
      vectorFactor(
        measured(x => x),
        2,
        550,
        700,
        1.5,
      ),
    ).toBe(1)
  })
})

test('grooves are told apart by shape, not by name', () => {
  expect(sameGroove(measured(wave), { ...measured(wave), name: 'other' } as typeof sinusoid)).toBe(true)
  expect(sameGroove(rectangular(0.3), rectangular(0.31))).toBe(false)
  const list = [sinusoid]
  expect([blazed, sinusoid, rectangular(), blazed].map(g => grooveIndex(list, g))).toEqual([1, 0, 2, 1])
})

// The negative of a relief has the phase −φ h but for a constant: the transform's complex conjugate, so order m of the
// one is order −m of the other.
test('read through the film, a relief is its own negative', () => {
  const lopsided = (x: number) => x * x * (1 - x)
  const relief = measured(lopsided)
  const negative = measured(x => 1 - lopsided(x))
  for (const m of [-3, -1, 0, 1, 2])
    expect(orderShare(negative, m, 2.9)).toBeCloseTo(orderShare(relief, facing(m, 'film'), 2.9), 12)
  // A blaze is bright from the other side.
  const stack = foil({ ...grating, groove: blazed, grooveDepth: 160 })
  const brightness = (readFrom: 'lacquer' | 'film', side: number) =>
    seen(stack, raysOf(toward(33 * side), toward(0)), 'D65', { ...defaultBoard, readFrom }).diffracted[1]
  expect(brightness('film', 1)).toBeCloseTo(brightness('lacquer', -1), 10)
  expect(brightness('lacquer', 1) / brightness('film', 1)).toBeGreaterThan(5)
})

test('what lies beyond the orders of pictures', () => {
  // Sinusoids have next to nothing there; a rectangular one keeps 8/π² Σ 1/m² over the odd m from 9 on that leave.
  expect(shareBeyond(sinusoid, 100, 5000, 550, 3)).toBeLessThan(1e-6)
  const φ = groovePhase(550, 91.67, 3)
  const odd = [9, 11, 13, 15, 17].reduce((sum, m) => sum + 1 / m ** 2, 0)
  expect(shareBeyond(rectangular(), 91.67, 5000, 550, 3)).toBeCloseTo(
    (8 / Math.PI ** 2) * odd * Math.sin(φ / 2) ** 2,
    12,
  )
  expect(shareBeyond(rectangular(), 91.67, 1000, 550, 3)).toBe(0)
})
