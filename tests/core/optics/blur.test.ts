import { describe, expect, test } from 'vitest'
import {
  cellVariance,
  gaussian,
  mirrorKernel,
  orderBand,
  orderBlur,
  sceneBlur,
} from '../../../core/optics/blur.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { radians, raysOf, sinusoid, toward } from '../../support/optics.ts'

const rays = (lampDegrees: number) => raysOf(toward(30), toward(0), radians(lampDegrees) / 4)

describe('width of a colour band', () => {
  // Lamp at 30°, eye on the axis at 400 mm, waviness 0.003, cells of 50 µm: full width at half height, nm, from the
  // covariance worked by hand to whole nanometres.
  test.each([
    [600, [30, 33, 42, 80, 151, 298]],
    [1000, [18, 20, 25, 48, 91, 179]],
    [1400, [13, 14, 18, 34, 65, 128]],
  ])('%i lines/mm under lamps of 0.53°, 1°, 2°, 5°, 10°, 20°', (lines, expected) => {
    expected.forEach((width, i) => {
      const scene = sceneBlur(rays([0.53, 1, 2, 5, 10, 20][i]!), defaultBoard, 1, 0)
      const blur = orderBlur(scene, cellVariance(defaultBoard), 1, 550, 0, 0)
      const fwhm = 2 * Math.sqrt(2 * Math.log(2)) * orderBand(1e6 / lines, 1, 0.5, 0, blur).deviation
      expect(Math.abs(fwhm - width), `${fwhm}`).toBeLessThanOrEqual(0.51)
    })
  })

  test('grows with the spread of the pitch as λ · spread', () => {
    const still = { uu: 1e-6, uw: 0, ww: 1e-6 }
    const spread = 0.05 / sinusoid.pitch
    const band = orderBand(1000, 1, 0.5, 0, orderBlur(still, [0, 0], 1, 500, spread, 0))
    expect(band.deviation).toBeCloseTo(1000 * Math.hypot(1e-3, 500 * spread), 9)
  })
})

describe('kernels', () => {
  test('are densities: their integral is 1', () => {
    const blur = { uu: 2e-4, uw: -4e-5, ww: 1e-4 }
    const step = 0.001
    let [mirror, order] = [0, 0]
    for (let u = -0.1; u <= 0.1; u += step)
      for (let w = -0.1; w <= 0.1; w += step) {
        mirror += mirrorKernel(u, w, blur) * step * step
        // An order at one wavelength: its density in (u, w) is weight · N(λ) with weight in nm.
        const band = orderBand(1000, 1, u + 0.5, w, blur)
        order += band.weight * gaussian(500 - band.middle, band.deviation ** 2) * step * step
      }
    expect(mirror).toBeCloseTo(1, 4)
    expect(order).toBeCloseTo(1, 4)
  })

  test('an order at one wavelength is the mirror kernel moved along the grating vector', () => {
    const blur = { uu: 2e-4, uw: -4e-5, ww: 1e-4 }
    for (const [u, w] of [
      [0.51, 0.004],
      [0.48, -0.02],
    ] as const) {
      const band = orderBand(1000, 1, u, w, blur)
      const density = band.weight * gaussian(500 - band.middle, band.deviation ** 2)
      expect(density / mirrorKernel(u - 0.5, w, blur)).toBeCloseTo(1, 10)
    }
  })

  test('turn with the frame', () => {
    const slanted = raysOf(toward(50, 20), toward(35, 160), 0.02)
    const scene = sceneBlur(slanted, defaultBoard, 1, 0)
    const turned = sceneBlur(slanted, defaultBoard, Math.cos(0.7), Math.sin(0.7))
    expect(turned.uu + turned.ww).toBeCloseTo(scene.uu + scene.ww, 14)
    expect(turned.uu * turned.ww - turned.uw ** 2).toBeCloseTo(scene.uu * scene.ww - scene.uw ** 2, 14)
  })
})
