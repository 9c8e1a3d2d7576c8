import { describe, expect, test } from 'vitest'
import { hazeKernel, hazeLevel, scaledI0, smoothPart } from '../../../core/optics/haze.ts'
import { defaultBoard } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { foil, raysOf, sinusoid, toward } from '../../support/optics.ts'

describe('the part that stays in the orders', () => {
  // Bennett & Porteus (1961): a mirror in air loses 1 − exp(−(4πσ cos θ/λ)²); worked by hand for σ = 5 nm, 550 nm.
  test('is that of total integrated scatter', () => {
    expect(smoothPart(5, 550, 2)).toBeCloseTo(Math.exp(-0.0130508), 6)
    expect(smoothPart(5, 550, 1)).toBeCloseTo(Math.exp(-0.0130508 / 4), 6)
    expect(smoothPart(0, 400, 3)).toBe(1)
  })
})

// I₀(x) = (1/π) ∫ e^{x cos θ} dθ over half a turn; the midpoint rule is exact to double precision here.
test('the scaled Bessel function is its integral', () => {
  for (const x of [0, 0.1, 1, 3, 3.74, 3.76, 8, 40, 400]) {
    const steps = 400
    let sum = 0
    for (let i = 0; i < steps; i++) sum += Math.exp(x * (Math.cos(((i + 0.5) * Math.PI) / steps) - 1)) / steps
    expect(Math.abs(scaledI0(x) / sum - 1)).toBeLessThan(3e-7)
  }
})

describe('the lobe of the haze', () => {
  /** ∫ a(|l|) a(|v|) N(l_t + v_t) d²v_t over all directions, on rings and spokes. */
  function whole(spread: number, radius: number): number {
    const level = hazeLevel(spread)
    const [rings, spokes] = [600, 720]
    let sum = 0
    for (let i = 0; i < rings; i++) {
      const p = (i + 0.5) / rings
      for (let j = 0; j < spokes; j++) {
        const ψ = (2 * Math.PI * (j + 0.5)) / spokes
        const off = (radius - p * Math.cos(ψ)) ** 2 + (p * Math.sin(ψ)) ** 2
        sum += Math.exp(-off / (2 * spread ** 2)) * level(p) * p
      }
    }
    return (level(radius) * sum * 2 * Math.PI) / (rings * spokes * 2 * Math.PI * spread ** 2)
  }

  test.each([0.03, 0.1, 0.15, 0.4, 1])('of spread %d sends on what it gets, at any angle', spread => {
    // Straight between 256 rings, and this sum's own 600.
    for (const radius of [0, 0.3, 0.7, 0.9, 0.99])
      expect(Math.abs(whole(spread, radius) - 1)).toBeLessThan(2e-3)
  })

  test('is the same when lamp and eye change places', () => {
    const board = { ...defaultBoard, hazeSpread: 0.2 }
    const there = raysOf(toward(50, 20), toward(30, 170))
    const back = {
      lamp: there.eye,
      eye: there.lamp,
      lampSpread: there.eyeSpread,
      eyeSpread: there.lampSpread,
    }
    expect(hazeKernel(back, board) / hazeKernel(there, board)).toBeCloseTo(1, 12)
  })
})

describe('a rough foil', () => {
  const rough = { ...defaultBoard, microRoughness: 12, hazeSpread: 0.1 }
  const mirror = foil()

  test('takes from the mirror what its haze gives, in one sum over all directions', () => {
    // Lamp straight above; light per direction cosine squared, on rings around the mirror direction. The lobe's outer
    // parts cross the coat and its surface on a slant, so they lose a little.
    const sum = (board: typeof rough, part: (r: number) => number) => {
      const steps = 120
      let total = 0
      for (let i = 0; i < steps; i++) {
        // Closer together towards the middle, where the mirror is.
        const t = (i + 0.5) / steps
        const r = 0.6 * t ** 3
        const eye = [r, 0, Math.sqrt(1 - r * r)] as const
        const found = seen(mirror, raysOf(toward(0), eye, 0.003), 'D65', board)
        total += part(found.haze[1] + found.mirror[1]) * r * ((1.8 * t ** 2) / steps)
      }
      return total
    }
    const lost = sum(rough, v => v) / sum(defaultBoard, v => v)
    expect(lost).toBeGreaterThan(0.98)
    expect(lost).toBeLessThan(1.001)
  })

  test('loses blue before red, and darkens its orders alike', () => {
    const rays = raysOf(toward(34), toward(2))
    const grating = foil(sinusoid)
    const [clean, hazy] = [seen(grating, rays, 'D65', defaultBoard), seen(grating, rays, 'D65', rough)]
    expect(hazy.diffracted[1] / clean.diffracted[1]).toBeLessThan(0.9)
    expect(hazy.haze[2] / hazy.haze[0]).toBeGreaterThan(1)
    expect(underLamp(clean)).toEqual(underLamp(seen(grating, rays, 'D65', { ...rough, microRoughness: 0 })))
  })
})
