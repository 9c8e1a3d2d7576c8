import { fresnel } from './fresnel.ts'
import type { Rays } from './rays.ts'

/**
 * Light that the top surface of a coat throws to the eye, over that of perfect white: π times the microfacet BRDF
 * with Beckmann's slopes and Smith's shadowing. White, since it never enters the coat.
 * @param variance mean square slope of the surface
 * Source: B. Walter et al., Microfacet Models for Refraction, EGSR 2007, equations 20, 25–27.
 */
export function gloss(rays: Rays, coat: number, variance: number): number {
  const { lamp, eye } = rays
  const x = lamp[0] + eye[0]
  const y = lamp[1] + eye[1]
  const z = lamp[2] + eye[2]
  // Lamp and pupil blur the half vector, and half of it is a slope: their variances in slope, two axes.
  const blurred = variance + (2 * (rays.lampSpread ** 2 + rays.eyeSpread ** 2)) / (z * z)
  const tan2 = (x * x + y * y) / (z * z)
  const length = Math.sqrt(x * x + y * y + z * z)
  const cosHalf = z / length
  const density = Math.exp(-tan2 / blurred) / (Math.PI * blurred * cosHalf ** 4)
  const cosIn = length / 2
  const shadowing = unshadowed(lamp[2], blurred) * unshadowed(eye[2], blurred)
  return (Math.PI * fresnel(cosIn, coat) * density * shadowing) / (4 * lamp[2] * eye[2])
}

/** Numbers of the fit to Smith's function: (a x + b x²) / (1 + c x + d x²) while x² < reach, then 1. */
export const smithFit = { a: 3.535, b: 2.181, c: 2.276, d: 2.577, reach: 2.56 } as const

/** Smith's share of the surface that a ray at `cos` reaches; rational fit, error 0.35 %. */
export function unshadowed(cos: number, variance: number): number {
  const x2 = (cos * cos) / ((1 - cos * cos) * variance + 1e-30)
  if (x2 >= smithFit.reach) return 1
  const x = Math.sqrt(x2)
  return (smithFit.a * x + smithFit.b * x2) / (1 + smithFit.c * x + smithFit.d * x2)
}

/** Whether a lobe is narrower than a lamp of angular spread `spread`, so that it shows the lamp's outline. */
export function narrower(variance: number, spread: number): boolean {
  return 2 * variance < spread * spread
}
