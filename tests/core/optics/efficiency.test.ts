import besselj0 from '@stdlib/math-base-special-besselj0'
import besselj1 from '@stdlib/math-base-special-besselj1'
import { describe, expect, test } from 'vitest'
import { blazed, rectangular, sampled, sinusoid } from '../../../core/optics/groove.ts'
import { besselJ, groovePhase, orderShare, vectorFactor } from '../../../core/optics/order-share.ts'

describe('besselJ', () => {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, tables 9.1 and 9.2 (table numbers from memory), 10 digits.
  test.each([
    [0, 1, 0.7651976866],
    [1, 1, 0.4400505857],
    [2, 1, 0.1149034849],
    [0, 2, 0.2238907791],
    [1, 2, 0.5767248078],
    [2, 2, 0.3528340286],
    [3, 3, 0.3090627223],
    [4, 5, 0.3912323605],
  ])('J%i(%i) = %d', (m, x, expected) => {
    expect(Math.abs(besselJ(m, x) - expected)).toBeLessThanOrEqual(5e-11)
  })

  test('agrees with @stdlib over the phases in use', () => {
    for (let x = 0; x <= 6.4; x += 0.05) {
      expect(Math.abs(besselJ(0, x) - besselj0(x))).toBeLessThan(1e-14)
      expect(Math.abs(besselJ(1, x) - besselj1(x))).toBeLessThan(1e-14)
    }
  })

  // Zeros: Abramowitz & Stegun, table 9.5 (from memory); the slope there is below 1.
  test('zeros', () => {
    expect(Math.abs(besselJ(0, 2.4048255577))).toBeLessThan(1e-10)
    expect(Math.abs(besselJ(1, 3.8317059702))).toBeLessThan(1e-10)
  })

  test('J₋ₘ = (−1)ᵐ Jₘ, up to the farthest order', () => {
    for (let m = 0; m <= 27; m++) expect(besselJ(-m, 6)).toBeCloseTo((-1) ** m * besselJ(m, 6), 14)
  })

  // Largest squares, where the derivative is 0; found by solving J' = 0 to 10 digits.
  test.each([
    [1, 1.8411837813, 0.3385671],
    [2, 3.0542369, 0.236681],
    [3, 4.2011889, 0.1886985],
  ])('J%i² is largest at %d', (m, x, expected) => {
    expect(besselJ(m, x) ** 2).toBeCloseTo(expected, 7)
    for (const beside of [x - 0.02, x + 0.02])
      expect(besselJ(m, beside) ** 2).toBeLessThan(besselJ(m, x) ** 2)
  })
})

describe('orderShare', () => {
  // Parseval: a thin relief only deals the light out.
  test.each([
    ['sinusoid', sinusoid, 27, 1e-12],
    // The tails of the two with edges fall as 1/m²: 2/π² · 1/4000 is left out at most.
    ['rectangular', rectangular(), 4000, 1e-4],
    ['rectangular, 30 % high', rectangular(0.3), 4000, 1e-4],
    ['blazed', blazed, 4000, 1e-4],
    // 64 samples have 64 orders; the two at ±32 are one and count as none.
    ['sampled', sampled('hill', [0, 1, 3, 4, 3, 1, 0, 0]), 31, 1e-4],
  ] as const)('orders of a %s relief sum to 1', (_, groove, far, tolerance) => {
    for (const φ of [0, 0.3, 1.8, 3.7, 6.1, 9, 12.6]) {
      let sum = 0
      for (let m = -far; m <= far; m++) sum += orderShare(groove, m, φ)
      expect(Math.abs(sum - 1)).toBeLessThan(tolerance)
    }
  })

  test('sinusoid: order 1 peaks at 33.86 %, 0.293 λ/n deep', () => {
    const share = (depth: number) => orderShare(sinusoid, 1, groovePhase(550, depth, 3))
    expect(share(107.4)).toBeCloseTo(0.3386, 4)
    for (const [λ, depth] of [
      [450, 88],
      [550, 107],
      [650, 127],
    ] as const)
      expect(groovePhase(λ, depth, 3) / 2).toBeCloseTo(1.841, 1)
  })

  // Encyclopaedias print 40.5 % for a rectangular phase grating; 4/π².
  test('rectangular', () => {
    expect(orderShare(rectangular(), 1, Math.PI)).toBeCloseTo(0.4052847, 7)
    expect(orderShare(rectangular(), -3, Math.PI)).toBeCloseTo(0.0450316, 7)
    expect(orderShare(rectangular(), 2, Math.PI)).toBe(0)
    expect(orderShare(rectangular(), 0, Math.PI)).toBeCloseTo(0, 15)
    expect(groovePhase(550, 550 / (4 * 1.5), 3)).toBeCloseTo(Math.PI, 12)
  })

  test('blazed: all light in order 1 at half a wave in the coat, none turned round', () => {
    const φ = groovePhase(550, 550 / (2 * 1.5), 3)
    expect(orderShare(blazed, 1, φ)).toBeCloseTo(1, 12)
    expect(orderShare(blazed, -1, φ)).toBeCloseTo(0, 12)
  })

  // First order of an N-step stair, sinc²(1/N) (81 % for four steps is in every handbook): here as what a blaze
  // 1/N of a wave too shallow leaves in its order.
  test.each([
    [2, 0.4052847],
    [4, 0.8105695],
    [8, 0.9496412],
    [16, 0.9872148],
  ])('sinc²(1/%i) = %d', (n, expected) => {
    expect(orderShare(blazed, 1, 2 * Math.PI * (1 - 1 / n))).toBeCloseTo(expected, 7)
  })

  // Transform of the profile itself, e^{iφh(x)}, sampled: a second way to each share.
  test.each([
    ['sinusoid', sinusoid, (x: number) => (1 + Math.sin(2 * Math.PI * x)) / 2, 1e-12],
    ['rectangular', rectangular(), (x: number) => (x < 0.5 ? 1 : 0), 1e-5],
    ['rectangular, 25 % high', rectangular(0.25), (x: number) => (x < 0.25 ? 1 : 0), 1e-5],
    ['blazed', blazed, (x: number) => x, 1e-5],
  ] as const)('%s is the spectrum of its profile', (_, groove, height, tolerance) => {
    const N = 4096
    for (const φ of [0.7, 2.9, 7.3])
      for (const m of [-3, -1, 0, 1, 2]) {
        let [re, im] = [0, 0]
        for (let k = 0; k < N; k++) {
          const x = (k + 0.5) / N
          re += Math.cos(φ * height(x) - 2 * Math.PI * m * x) / N
          im += Math.sin(φ * height(x) - 2 * Math.PI * m * x) / N
        }
        expect(Math.abs(orderShare(groove, m, φ) - (re * re + im * im))).toBeLessThan(tolerance)
      }
  })
})

describe('vectorFactor', () => {
  test('is 1 for order 0 and for reliefs with edges', () => {
    expect(vectorFactor(sinusoid, 0, 550, 700, 1.5)).toBe(1)
    expect(vectorFactor(blazed, 2, 550, 700, 1.5)).toBe(1)
    expect(vectorFactor(sinusoid, -1, 600, 800, 1.5)).toBeCloseTo(1 + 0.5 * 0.25, 12)
  })
})
