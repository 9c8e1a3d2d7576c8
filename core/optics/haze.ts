import { mirrorKernel, sceneBlur } from './blur.ts'
import { pathCosine } from './grating.ts'
import type { Rays } from './rays.ts'
import type { Board } from './scene.ts'

/**
 * Part of the light that the metal's own fine roughness leaves in the orders: exp(−[(2π/λ) σ (q_l + q_v)]²).
 * @param roughness rms height σ, nm
 * @param λ         nm
 * @param q         q_l + q_v, the normal parts of the two rays inside the coat
 * Source: H. E. Bennett & J. O. Porteus, J. Opt. Soc. Am. 51, 123 (1961), (4πσ/λ)² straight on; for two slants as in
 * the groove phase.
 */
export function smoothPart(roughness: number, λ: number, q: number): number {
  return Math.exp(-((((2 * Math.PI) / λ) * roughness * q) ** 2))
}

/**
 * The haze that the rest makes: density of the tangential direction around the mirror direction, a Gaussian of the
 * board's spread (direction cosines, each axis) blurred as the mirror order is, times {@link hazeLevel} of both rays.
 * Shift-invariant in direction cosines after J. E. Harvey et al., Opt. Eng. 51, 013402 (2012). Times π it is the light
 * of the lobe over that of perfect white, as for the mirror order. The same when lamp and eye change places.
 */
export function hazeKernel(rays: Rays, board: Board): number {
  const { lamp, eye } = rays
  const scene = sceneBlur(rays, board, 1, 0)
  const s2 = board.hazeSpread ** 2
  const blur = { uu: scene.uu + s2, uw: scene.uw, ww: scene.ww + s2 }
  const kernel = mirrorKernel(pathCosine(lamp, eye, 1, 0), pathCosine(lamp, eye, 0, 1), blur)
  const level = hazeLevel(board.hazeSpread)
  return kernel * level(Math.hypot(lamp[0], lamp[1])) * level(Math.hypot(eye[0], eye[1]))
}

const levels = new Map<number, (radius: number) => number>()

/**
 * What keeps the haze's energy where part of a Gaussian would lie beyond the horizon: a(r) with
 * a(|l|) ∫ a(|v|) N(l_t + v_t) d²v_t = 1 over all directions, for every lamp. r is the length of the tangential part.
 */
export function hazeLevel(spread: number): (radius: number) => number {
  let level = levels.get(spread)
  if (level === undefined) {
    if (levels.size >= mostKept) levels.clear()
    level = between(balance(spread))
    levels.set(spread, level)
  }
  return level
}

const mostKept = 16
/** Rings of directions, evenly in r; a spread of 0.01 is two and a half of them. */
const rings = 256

/** Level of every ring, by repeated balancing; a symmetric form of Sinkhorn's scaling. */
function balance(spread: number): Float64Array {
  const s2 = spread * spread
  const kernel = new Float64Array(rings * rings)
  for (let i = 0; i < rings; i++)
    for (let j = 0; j < rings; j++) {
      const [r, p] = [(i + 0.5) / rings, (j + 0.5) / rings]
      const off = (r - p) ** 2 / (2 * s2)
      kernel[i * rings + j] = off > 40 ? 0 : ((Math.exp(-off) * scaledI0((r * p) / s2)) / s2) * (p / rings)
    }
  const level = new Float64Array(rings).fill(1)
  for (let round = 0; round < 60; round++) {
    let off = 0
    const next = level.map((a, i) => {
      let sum = 0
      for (let j = 0; j < rings; j++) sum += kernel[i * rings + j]! * level[j]!
      off = Math.max(off, Math.abs(a * sum - 1))
      return Math.sqrt(a / sum)
    })
    level.set(next)
    if (off < 1e-9) break
  }
  return level
}

/**
 * e^−x I₀(x), relative error below 2e-7: Abramowitz & Stegun, Handbook of Mathematical Functions, 9.8.1 and 9.8.2
 * (numbers from memory, checked against the integral).
 */
export function scaledI0(x: number): number {
  if (x < 3.75) {
    const t = (x / 3.75) ** 2
    const series =
      1 +
      t * (3.5156229 + t * (3.0899424 + t * (1.2067492 + t * (0.2659732 + t * (0.0360768 + t * 0.0045813)))))
    return Math.exp(-x) * series
  }
  const t = 3.75 / x
  const series =
    0.39894228 +
    t *
      (0.01328592 +
        t *
          (0.00225319 +
            t *
              (-0.00157565 +
                t *
                  (0.00916281 + t * (-0.02057706 + t * (0.02635537 + t * (-0.01647633 + t * 0.00392377)))))))
  return series / Math.sqrt(x)
}

function between(values: Float64Array): (radius: number) => number {
  return radius => {
    const at = Math.min(Math.max(radius * rings - 0.5, 0), rings - 1)
    const left = Math.min(Math.floor(at), rings - 2)
    return values[left]! + (at - left) * (values[left + 1]! - values[left]!)
  }
}
