import { describe, expect, test } from 'vitest'
import { diffracted, leaving, pathCosine, wavelengthSeen } from '../../../core/optics/grating.ts'
import { degrees, radians, toward } from '../../support/optics.ts'

/** Angle in degrees of order m at straight incidence on a grating of `pitch` nm. */
function angle(pitch: number, λ: number, m: number): number {
  const [x, y] = diffracted(toward(0), 1, 0, pitch, λ, m)
  expect(y).toBe(0)
  return degrees(Math.asin(x))
}

describe('orders at straight incidence', () => {
  // OpenStax, College Physics, example 27.3: 10 000 lines a centimetre, ends of the visible on a screen 2.00 m away.
  // Angles follow from the equation; the book prints the screen distance of the red end.
  test('OpenStax example 27.3', () => {
    expect(angle(1000, 380, 1)).toBeCloseTo(22.33, 2)
    expect(angle(1000, 760, 1)).toBeCloseTo(49.46, 2)
    // The book rounds the angle to 49.46° first, which moves the distance by 0.0007.
    expect(Math.abs(2 * Math.tan(radians(angle(1000, 760, 1))) - 2.338)).toBeLessThan(0.001)
  })

  // Halliday, Resnick & Walker, Fundamentals of Physics, chapter 36, worked solution: 160 lines/mm, printed to 0.1°.
  test.each([
    [2, 460, 8.46],
    [2, 640, 11.81],
    [3, 460, 12.75],
    [3, 640, 17.89],
    [4, 460, 17.12],
  ])('160 lines/mm, order %i at %i nm leaves at %d°', (m, λ, expected) => {
    expect(Math.abs(angle(6250, λ, m) - expected)).toBeLessThan(0.011)
  })

  // Textbook problem: 5580 lines/cm, second order 26.3 cm off the axis of a screen 42.5 cm away.
  test('5580 lines/cm, second order on a screen', () => {
    const u = Math.sin(Math.atan(26.3 / 42.5))
    expect(wavelengthSeen(1e7 / 5580, u, 2)).toBeCloseTo(471.5, 1)
    expect(42.5 * Math.tan(radians(angle(1e7 / 5580, 471.5, 3)))).toBeCloseTo(54.6, 1)
  })

  // Textbook problem: 2000 lines/cm, 640 nm.
  test('2000 lines/cm', () => expect(angle(5000, 640, 1)).toBeCloseTo(7.354, 3))

  // Helium–neon line on 600 lines/mm: two orders on each side.
  test('600 lines/mm, 632.8 nm', () => {
    const pitch = 1e6 / 600
    expect(angle(pitch, 632.8, 1)).toBeCloseTo(22.314, 3)
    expect(angle(pitch, 632.8, 2)).toBeCloseTo(49.408, 3)
    expect(leaving(diffracted(toward(0), 1, 0, pitch, 632.8, 3))).toBeNull()
  })

  test.each([
    [1000, 450, 26.74],
    [1000, 550, 33.37],
    [1000, 650, 40.54],
    [1e6 / 700, 550, 22.64],
    [1e6 / 1500, 550, 55.59],
  ])('pitch %d nm sends %i nm to %d°', (pitch, λ, expected) => {
    expect(angle(pitch, λ, 1)).toBeCloseTo(expected, 2)
  })

  // 1400 lines/mm: first order ends where λ = d, second where λ = d/2; inside a coat of 1.5 at 1.5 times that.
  test('cut-offs', () => {
    const pitch = 1e6 / 1400
    for (const [m, end] of [
      [1, 714.3],
      [2, 357.1],
    ] as const) {
      expect(leaving(diffracted(toward(0), 1, 0, pitch, end - 0.1, m))).not.toBeNull()
      expect(leaving(diffracted(toward(0), 1, 0, pitch, end + 0.1, m))).toBeNull()
    }
    expect(diffracted(toward(0), 1, 0, pitch, 1071.4, 1)[0]).toBeCloseTo(1.5, 4)
  })
})

describe('Littrow', () => {
  // 1200 lines/mm, first order back along the lamp at 500 nm: sin θ = λ / 2d; dispersion 2 tan θ / λ (handbook formula,
  // from memory) 1.258 mrad/nm.
  test('1200 lines/mm', () => {
    const pitch = 1e6 / 1200
    const θ = Math.asin(500 / (2 * pitch))
    expect(degrees(θ)).toBeCloseTo(17.458, 3)
    const back = (λ: number) => Math.asin(diffracted(toward(degrees(θ)), 1, 0, pitch, λ, 1)[0])
    expect(back(500)).toBeCloseTo(θ, 12)
    expect(1000 * (back(500.5) - back(499.5))).toBeCloseTo(1.258, 3)
  })
})

describe('conical', () => {
  // Worked by hand from v_t = −l_t + (λ/d) g: lamp at 40°, 50° round from the grating vector.
  test('lamp out of the plane', () => {
    const lamp = toward(40, 50)
    expect(lamp[0]).toBeCloseTo(0.413176, 6)
    expect(lamp[1]).toBeCloseTo(0.492404, 6)
    const eye = leaving(diffracted(lamp, 1, 0, 1000, 550, 1))!
    expect(eye[0]).toBeCloseTo(0.136824, 6)
    expect(eye[1]).toBeCloseTo(-0.492404, 6)
    expect(eye[2]).toBeCloseTo(0.859545, 6)
    expect(degrees(Math.acos(eye[2]))).toBeCloseTo(30.734, 3)
    expect(degrees(Math.atan2(eye[1], eye[0]))).toBeCloseTo(-74.471, 3)
    expect(wavelengthSeen(1000, pathCosine(lamp, eye, 1, 0), 1)).toBeCloseTo(550, 9)
    expect(pathCosine(lamp, eye, 0, 1)).toBeCloseTo(0, 12)
  })
})

describe('a panel tilted under a lamp 30° from the eye', () => {
  const u = (tilt: number) => pathCosine(toward(30 - tilt), toward(-tilt), 1, 0)

  test('u = sin(30° − τ) − sin τ', () => {
    expect(u(0)).toBeCloseTo(0.5, 12)
    expect(u(15)).toBeCloseTo(0, 12)
    expect(wavelengthSeen(1000, u(0), 1)).toBeCloseTo(500, 9)
    expect(wavelengthSeen(1000, pathCosine(toward(45), toward(0), 1, 0), 1)).toBeCloseTo(707.1, 1)
  })

  // How far a hand turns the panel from violet to red, by inverting u(τ).
  test.each([
    [600, 5.42],
    [1000, 9.29],
    [1400, 13.63],
  ])('%i lines/mm runs from 400 to 700 nm in %d°', (lines, expected) => {
    const tiltAt = (λ: number) => {
      let [low, high] = [-40, 15]
      for (let i = 0; i < 60; i++) {
        const middle = (low + high) / 2
        if (wavelengthSeen(1e6 / lines, u(middle), 1) > λ) low = middle
        else high = middle
      }
      return low
    }
    expect(tiltAt(400) - tiltAt(700)).toBeCloseTo(expected, 2)
  })
})
