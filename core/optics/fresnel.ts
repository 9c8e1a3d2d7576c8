/**
 * Reflectance of a bare dielectric surface for unpolarized light, in [0, 1].
 * @param cosIn cosine of the angle of incidence, in [0, 1]
 * @param n     refractive index beyond the surface over index before it, > 0; below 1 it may reflect totally
 * Source: Born & Wolf, Principles of Optics, 7th ed., section 1.5.2.
 */
export function fresnel(cosIn: number, n: number): number {
  const sin2 = (1 - cosIn * cosIn) / (n * n)
  if (sin2 >= 1) return 1
  const cosOut = Math.sqrt(1 - sin2)
  const s = (cosIn - n * cosOut) / (cosIn + n * cosOut)
  const p = (n * cosIn - cosOut) / (n * cosIn + cosOut)
  return (s * s + p * p) / 2
}

/** Cosine inside a coat of index `n` of light that comes from air with cosine `cosAir`. */
export function refracted(cosAir: number, n: number): number {
  return Math.sqrt(1 - (1 - cosAir * cosAir) / (n * n))
}

/**
 * Reflectance of a metal for unpolarized light, in [0, 1].
 * @param cosIn cosine of the angle of incidence in the medium, in [0, 1]
 * @param n1    refractive index of the medium
 * @param n     refractive index of the metal
 * @param k     its extinction coefficient, ≥ 0
 * Source: Born & Wolf, Principles of Optics, 7th ed., section 14.4.1 (opaque metal, real part form).
 */
export function fresnelMetal(cosIn: number, n1: number, n: number, k: number): number {
  const η = n / n1
  const κ = k / n1
  const cos2 = cosIn * cosIn
  const sin2 = 1 - cos2
  const real = η * η - κ * κ - sin2
  const modulus = Math.sqrt(real * real + 4 * η * η * κ * κ)
  const a = Math.sqrt(Math.max(0, (modulus + real) / 2))
  const s = (modulus - 2 * a * cosIn + cos2) / (modulus + 2 * a * cosIn + cos2)
  const t = cos2 * modulus + sin2 * sin2
  const u = 2 * a * cosIn * sin2
  return (s * (1 + (t - u) / (t + u))) / 2
}

/** Mean over a hemisphere lit evenly: 2 ∫ R(cos) cos d cos, by the midpoint rule; error below 1e-5 with 1024 steps. */
export function hemisphericalMean(reflectance: (cos: number) => number, steps = 1024): number {
  let sum = 0
  for (let i = 0; i < steps; i++) {
    const cos = (i + 0.5) / steps
    sum += reflectance(cos) * cos
  }
  return (2 * sum) / steps
}
