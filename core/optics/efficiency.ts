import type { Grating, GrooveShape } from './matter.ts'

type Relief = Pick<Grating, 'shape' | 'pitch' | 'grooveDepth'>

/**
 * Share of the power in order m against a perfect mirror, inside the coat: P·F. Times the metal's reflectance it is
 * the efficiency. Of the orders that leave the coat, first ones of sinusoids from 714 nm pitch on are within 3 % of
 * rigorous solutions, rectangular ones within 0.06; rectangular and blazed reliefs finer than 1000 nm are 10–30 % off
 * in single orders. Orders of a sinusoid from 667 nm pitch on sum to at most 1 under any light; of a rectangular relief
 * to 1.2 and of a blazed one to 1.1 up to 120 nm of depth, and to more beyond, since each order has its own phase.
 * @param q q_l + q_v, see {@link groovePhase}
 */
export function orderPower(relief: Relief, m: number, λ: number, q: number, coat: number): number {
  const { shape, pitch, grooveDepth } = relief
  return orderShare(shape, m, groovePhase(λ, grooveDepth, q)) * vectorFactor(shape, m, λ, pitch, coat)
}

/**
 * Phase between top and bottom of the grooves, light going in and out under a coat: φ = (2π/λ) H (q_l + q_v).
 * @param λ     wavelength, nm
 * @param depth peak to valley H, nm
 * @param q     q_l + q_v: normal parts of the two rays inside the coat, each √(n² − |tangential part|²)
 */
export function groovePhase(λ: number, depth: number, q: number): number {
  return ((2 * Math.PI) / λ) * depth * q
}

/**
 * Share of the reflected power in order `m` of a thin relief, in [0, 1]; the orders of one phase sum to 1.
 * Sinusoid J_m(φ/2)²; rectangular with equal land and groove; blazed sinc²(m − φ/2π), whose positive m are the
 * strong side. Source: R. Magnusson & T. K. Gaylord, J. Opt. Soc. Am. 68, 806 (1978).
 */
export function orderShare(shape: GrooveShape, m: number, φ: number): number {
  switch (shape) {
    case 'sinusoid':
      return besselJ(m, φ / 2) ** 2
    case 'rectangular': {
      const sin = Math.sin(φ / 2)
      if (m === 0) return 1 - sin * sin
      return m % 2 === 0 ? 0 : ((2 * sin) / (Math.PI * m)) ** 2
    }
    case 'blazed': {
      const x = Math.PI * (m - φ / (2 * Math.PI))
      return Math.abs(x) < 1e-9 ? 1 : (Math.sin(x) / x) ** 2
    }
  }
}

/**
 * Vector correction of the scalar share for order `m` of a sinusoid: F = 1 + ½ (mλ / n d)², the second-order ratio
 * of small-perturbation theory to the scalar one. The other shapes go without: there the sum of orders could pass 1.
 */
export function vectorFactor(shape: GrooveShape, m: number, λ: number, pitch: number, coat: number): number {
  return shape === 'sinusoid' ? 1 + 0.5 * ((m * λ) / (coat * pitch)) ** 2 : 1
}

const steps = 32

/**
 * Bessel function J_m(x) for integer m: mean of cos(mθ − x sin θ) over half a turn. The midpoint rule is exact to
 * double precision while |m| + |x| is well below the 64 steps of a whole turn.
 */
export function besselJ(m: number, x: number): number {
  let sum = 0
  for (let i = 0; i < steps; i++) {
    const θ = ((i + 0.5) * Math.PI) / steps
    sum += Math.cos(m * θ - x * Math.sin(θ))
  }
  return sum / steps
}
