import type { Tables } from '../optics/tables.ts'

/** What orders at q keep over what those straight on keep, which the tables hold. @param q q_l + q_v, @param λ nm */
export function smoothness({ haze, coat }: Tables, q: number, λ: number): number {
  if (haze === null) return 1
  const part = haze.wavelength / λ
  return Math.exp(haze.steepness * part * part * (4 * coat * coat - q * q))
}

/** Light of the haze at q over that straight on, at the middle of the spectrum. */
export function hazeGrowth({ haze, coat }: Tables, q: number): number {
  if (haze === null) return 0
  return (1 - Math.exp(-haze.steepness * q * q)) / (1 - Math.exp(-haze.steepness * 4 * coat * coat))
}
