import { describe, expect, test } from 'vitest'
import { fresnel, fresnelMetal, hemisphericalMean, refracted } from '../../../core/optics/fresnel.ts'
import { aluminiumIndex, metalReflectance } from '../../../core/optics/metal.ts'
import { degrees, radians } from '../../support/optics.ts'

describe('a surface of index 1.5', () => {
  // Worked from Fresnel's equations (Born & Wolf, section 1.5.2) to six digits.
  test.each([
    [0, 0.04],
    [30, 0.041523],
    [45, 0.05024],
    [60, 0.089187],
    [75, 0.253061],
  ])('at %i° reflects %d', (angle, expected) => {
    expect(Math.abs(fresnel(Math.cos(radians(angle)), 1.5) - expected)).toBeLessThanOrEqual(5e-7)
  })

  test('Brewster: only s is left at 56.3099°', () => {
    const θ = radians(56.3099)
    const cosOut = refracted(Math.cos(θ), 1.5)
    const s = ((Math.cos(θ) - 1.5 * cosOut) / (Math.cos(θ) + 1.5 * cosOut)) ** 2
    expect(fresnel(Math.cos(θ), 1.5)).toBeCloseTo(s / 2, 10)
    expect(degrees(Math.atan(1.5))).toBeCloseTo(56.3099, 4)
  })

  test('reflects all beyond 41.8103° from inside', () => {
    expect(fresnel(Math.cos(radians(41.8102)), 1 / 1.5)).toBeLessThan(1)
    expect(fresnel(Math.cos(radians(41.8104)), 1 / 1.5)).toBe(1)
  })

  // Diffuse Fresnel reflectances; 0.596 is the value that print models use (Judd; from memory).
  test('in even light', () => {
    expect(hemisphericalMean(cos => fresnel(cos, 1.5))).toBeCloseTo(0.0918, 4)
    expect(hemisphericalMean(cos => fresnel(cos, 1 / 1.5))).toBeCloseTo(0.5963, 3)
  })

  test('Stokes: the same from both sides of one ray', () => {
    for (const angle of [5, 33, 61, 80]) {
      const cos = Math.cos(radians(angle))
      expect(fresnel(refracted(cos, 1.5), 1 / 1.5)).toBeCloseTo(fresnel(cos, 1.5), 12)
    }
  })
})

describe('aluminium', () => {
  // Rakić, Applied Optics 34, 4755 (1995), as tabulated.
  test.each([
    [442.8, 0.6079, 5.3676],
    [563.57, 1.0728, 6.7839],
    [652.25, 1.5724, 7.7354],
  ])('n and k at %d nm', (λ, n, k) => {
    expect(aluminiumIndex(λ)[0]).toBeCloseTo(n, 10)
    expect(aluminiumIndex(λ)[1]).toBeCloseTo(k, 10)
  })

  // Straight-on reflectance from those n and k; other measurements (Rakić 1998; McPeak et al. 2015) differ by < 0.5 %.
  test.each([
    [450, 0.9219, 0.8892],
    [550, 0.9154, 0.8788],
    [650, 0.9056, 0.8642],
  ])('at %i nm reflects %d in air, %d under a coat of 1.5', (λ, air, coated) => {
    expect(metalReflectance(λ, 1, 1)).toBeCloseTo(air, 4)
    expect(metalReflectance(λ, 1, 1.5)).toBeCloseTo(coated, 4)
  })

  test.each([
    [450, 0.4892, 4.7783, 0.9219],
    [550, 0.7894, 5.8519, 0.9157],
    [650, 1.2464, 6.8523, 0.9041],
  ])('McPeak et al. (ACS Photonics 2, 326, 2015) at %i nm', (_, n, k, expected) => {
    expect(fresnelMetal(1, 1, n, k)).toBeCloseTo(expected, 4)
  })

  test('a metal that does not absorb is a dielectric', () => {
    for (const cos of [1, 0.8, 0.4, 0.1])
      expect(fresnelMetal(cos, 1, 1.5, 0)).toBeCloseTo(fresnel(cos, 1.5), 12)
  })

  // Complex arithmetic instead of the real form.
  test('agrees with Fresnel in complex numbers', () => {
    for (const cos of [1, 0.9, 0.6, 0.2]) {
      const [n, k, n1] = [1.0152, 6.6273, 1.5]
      const sin2 = 1 - cos * cos
      const [re, im] = [n * n - k * k - n1 * n1 * sin2, -2 * n * k]
      const modulus = Math.hypot(re, im)
      const [a, b] = [Math.sqrt((modulus + re) / 2), -Math.sqrt((modulus - re) / 2)]
      const part = (xr: number, xi: number, yr: number, yi: number) =>
        ((xr - yr) ** 2 + (xi - yi) ** 2) / ((xr + yr) ** 2 + (xi + yi) ** 2)
      const s = part(n1 * cos, 0, a, b)
      const p = part((n * n - k * k) * cos, -2 * n * k * cos, n1 * a, n1 * b)
      expect(fresnelMetal(cos, n1, n, k)).toBeCloseTo((s + p) / 2, 12)
    }
  })
})
