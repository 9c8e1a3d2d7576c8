import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { gaussian, mirrorKernel, orderBand, orderBlur, sceneBlur } from '../../core/optics/blur.ts'
import { groovePhase, orderPower, orderShare } from '../../core/optics/efficiency.ts'
import { fresnel, fresnelMetal, refracted } from '../../core/optics/fresnel.ts'
import { diffracted, leaving } from '../../core/optics/grating.ts'
import { defaultBoard } from '../../core/optics/scene.ts'
import { toward } from '../support/optics.ts'
import { anyDirection, anyGroove, number, smoothGroove } from './law-cases.ts'

const seeded = { seed: 20261, numRuns: 100 }

describe('laws of surfaces', () => {
  test('Helmholtz: a ray is reflected alike from both sides of a surface', () => {
    fc.assert(
      fc.property(number(0, 89.9), number(1.05, 2.4), (θ, n) => {
        const cos = Math.cos((θ * Math.PI) / 180)
        // Both forms lose digits as the two cosines meet at grazing incidence.
        expect(Math.abs(fresnel(refracted(cos, n), 1 / n) - fresnel(cos, n))).toBeLessThan(1e-9)
      }),
      seeded,
    )
  })

  test('no surface and no metal returns more than it gets, and none returns all of it grazing but all', () => {
    fc.assert(
      fc.property(number(0, 1), number(1, 2.4), number(0.05, 4), number(0.1, 10), (cos, n1, n, k) => {
        for (const R of [fresnel(cos, n1), fresnelMetal(cos, n1, n, k)]) {
          expect(R).toBeGreaterThanOrEqual(0)
          expect(R).toBeLessThanOrEqual(1 + 1e-12)
        }
        expect(fresnelMetal(0, n1, n, k)).toBeCloseTo(1, 12)
      }),
      seeded,
    )
  })
})

describe('laws of gratings', () => {
  test('Parseval: the orders of any groove share out all the light, no more and no less', () => {
    fc.assert(
      fc.property(smoothGroove, number(0, 6), (groove, φ) => {
        let sum = 0
        for (let m = -31; m <= 31; m++) sum += orderShare(groove, m, φ)
        // 63 of the orders of a gently waved profile: the rest is below the rounding of its 64 samples.
        expect(Math.abs(sum - 1)).toBeLessThan(1e-6)
      }),
      seeded,
    )
  })

  test('energy balance: what leaves, what is trapped and what the metal takes is what came, never more', () => {
    fc.assert(
      fc.property(
        anyGroove,
        number(667, 2500),
        number(0, 150),
        anyDirection,
        number(400, 700),
        (groove, pitch, grooveDepth, lamp, λ) => {
          const n = 1.5
          let [leaves, trapped] = [0, 0]
          for (let m = -12; m <= 12; m++) {
            const out = diffracted(lamp, 1, 0, pitch, λ, m)
            const q2 = n * n - out[0] ** 2 - out[1] ** 2
            if (q2 <= 0) continue
            const power = orderPower(
              { groove, pitch, grooveDepth },
              m,
              λ,
              n * refracted(lamp[2], n) + Math.sqrt(q2),
              n,
            )
            if (leaving(out) === null) trapped += power
            else leaves += power
          }
          const absorbed = 1 - leaves - trapped
          expect(leaves).toBeGreaterThan(0)
          expect(absorbed).toBeGreaterThanOrEqual(-1e-12)
        },
      ),
      { seed: 20262, numRuns: 400 },
    )
  })

  test('scale: a grating twice as coarse sends a wave twice as long the same way, just as strongly', () => {
    fc.assert(
      fc.property(
        anyGroove,
        number(667, 2500),
        number(0, 120),
        number(0.3, 3),
        anyDirection,
        number(400, 700),
        (groove, pitch, grooveDepth, scale, lamp, λ) => {
          const one = diffracted(lamp, 1, 0, pitch, λ, 1)
          const other = diffracted(lamp, 1, 0, scale * pitch, scale * λ, 1)
          expect(Math.hypot(one[0] - other[0], one[1] - other[1])).toBeLessThan(1e-12)
          const power = (s: number) =>
            orderPower({ groove, pitch: s * pitch, grooveDepth: s * grooveDepth }, 1, s * λ, 2.7, 1.5)
          expect(Math.abs(power(1) - power(scale))).toBeLessThan(1e-9)
          expect(groovePhase(scale * λ, scale * grooveDepth, 3)).toBeCloseTo(
            groovePhase(λ, grooveDepth, 3),
            9,
          )
        },
      ),
      seeded,
    )
  })

  test('a larger lamp spreads an order and keeps its light', () => {
    fc.assert(
      fc.property(number(0, 60), number(0, 360), number(0.002, 0.06), (polar, azimuth, lampSpread) => {
        const rays = { lamp: toward(polar, azimuth), eye: toward(10, 200), lampSpread, eyeSpread: 0.002 }
        const blur = orderBlur(sceneBlur(rays, defaultBoard, 1, 0), [2e-5, 2e-5], 1, 550, 0, 0)
        const reach = 6 * Math.sqrt(Math.max(blur.uu, blur.ww))
        const step = reach / 40
        let [order, mirror] = [0, 0]
        for (let u = -reach; u <= reach; u += step)
          for (let w = -reach; w <= reach; w += step) {
            const band = orderBand(1000, 1, u + 0.55, w, blur)
            order += band.weight * gaussian(550 - band.middle, band.deviation ** 2) * step * step
            mirror += mirrorKernel(u, w, blur) * step * step
          }
        // Sums over a grid of a seventh of the narrower deviation or finer, cut at 6 deviations.
        expect(Math.abs(order - 1)).toBeLessThan(2e-3)
        expect(Math.abs(mirror - 1)).toBeLessThan(2e-3)
      }),
      { seed: 20263, numRuns: 20 },
    )
  })
})
