import type { Direction } from './rays.ts'

/**
 * Path-difference cosine u = (l + v)·g of lamp and eye along a unit vector g of the panel.
 * A grating with vector g/d shows the eye, in order m, the wavelength λ = d u / m where (l + v)·t = 0 across g.
 * Source: J. E. Harvey & R. N. Pfisterer, Opt. Eng. 58, 087105 (2019), conical grating equation in direction cosines.
 */
export function pathCosine(lamp: Direction, eye: Direction, gx: number, gy: number): number {
  return (lamp[0] + eye[0]) * gx + (lamp[1] + eye[1]) * gy
}

/** Wavelength, nm, seen in order m ≠ 0; negative where that order has none. */
export function wavelengthSeen(pitch: number, u: number, m: number): number {
  return (pitch * u) / m
}

/**
 * Where light from `lamp` goes in order m: v_t = −l_t + (mλ/d) g. A coat above changes nothing (Snell keeps the
 * tangential part) but the reach: inside one of index n it propagates up to |v_t| < n.
 * @returns tangential part of the unit vector away from the panel, in units of the air's wave number
 */
export function diffracted(
  lamp: Direction,
  gx: number,
  gy: number,
  pitch: number,
  λ: number,
  m: number,
): readonly [x: number, y: number] {
  const step = (m * λ) / pitch
  return [step * gx - lamp[0], step * gy - lamp[1]]
}

/** Outgoing direction of a tangential part in air, or null where the order does not leave. */
export function leaving([x, y]: readonly [number, number]): Direction | null {
  const z2 = 1 - x * x - y * y
  return z2 > 0 ? [x, y, Math.sqrt(z2)] : null
}
