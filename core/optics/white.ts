/** Share of light that the air surface throws back on the way in at the instrument's angle; counted as gloss. */
const surfaceIn = 0.04
/** Share of scattered light that the air surface throws back inside. Source: J. L. Saunderson, J. Opt. Soc. Am. 32, 727 (1942), with D. B. Judd's value for n = 1.5. */
export const surfaceInside = 0.596
/** Reflectance of the white part of the contrast chart, surface included. Source: ASTM D589 / TAPPI T425 (opacity over 0.89). */
const chartWhite = 0.89
/** Mean cosine of scattering of titanium dioxide in binder; from memory, 0.4–0.6 in textbooks. */
export const usualForwardness = 0.6

/**
 * Reflectance and transmittance of a scattering layer on its own.
 * @param K absorption and S scattering coefficients, @param X thickness: only K·X and S·X matter
 * Source: P. Kubelka, J. Opt. Soc. Am. 38, 448 (1948).
 */
export function kubelkaMunk(K: number, S: number, X: number): { readonly R: number; readonly T: number } {
  const SX = S * X
  // Nothing scatters, or nothing beside what is absorbed.
  if (!(K / S < 1e15)) return { R: 0, T: Math.exp(-K * X) }
  // a² − 1 written so that a weak absorption is not lost beside 1.
  const b = Math.sqrt((K / S) * (K / S + 2))
  if (b === 0) {
    const T = 1 / (1 + SX)
    return { R: 1 - T, T }
  }
  // Over cosh throughout: a thick layer overflows in neither.
  const tanh = Math.tanh(b * SX)
  const below = (1 + K / S) * tanh + b
  return { R: tanh / below, T: b / (below * Math.cosh(b * SX)) }
}

/** Reflectance of a film over a backing, endless reflections between the two. Source: same, two-sheet law. */
export function filmOver(film: { readonly R: number; readonly T: number }, backing: number): number {
  return film.R + (film.T * film.T * backing) / (1 - film.R * backing)
}

/**
 * What leaves through the air surface of a scattering body, over what arrives; surface gloss left out.
 * The way out is the hemispherical mean, so it looks the same from every side.
 * @param inside  reflectance under the surface
 * @param passing share of the incoming light that enters
 */
export function throughSurface(inside: number, passing: number): number {
  return (passing * (1 - surfaceInside) * inside) / (1 - surfaceInside * inside)
}

/** The way back: reflectance under the surface from what was seen. */
export function underSurface(seen: number, passing: number): number {
  const part = seen / passing
  return part / (1 - surfaceInside + surfaceInside * part)
}

/** Reflectance of a contrast chart under the white's surface, in optical contact, from what an instrument reads of it bare. */
export function chartBelow(reflectance: number): number {
  return underSurface(reflectance, 1 - surfaceIn)
}

/** A white that does not absorb is one number, its scattering strength S·d: two hits add. */
export function whiteFilm(scatter: number): { readonly R: number; readonly T: number } {
  return kubelkaMunk(0, scatter, 1)
}

/** Opacity as an instrument measures it: seen over black by seen over a chart of 0.89, through the air surface. */
export function opacityOf(scatter: number): number {
  const film = whiteFilm(scatter)
  const chart = chartBelow(chartWhite)
  return throughSurface(film.R, 1) / throughSurface(filmOver(film, chart), 1)
}

/**
 * Scattering strength of one hit from its measured opacity, the inverse of {@link opacityOf}.
 * @param opacity 0…1; 1 gives `perfectScatter`
 */
export function scatterOf(opacity: number): number {
  if (opacity <= 0) return 0
  if (opacity >= opacityOf(perfectScatter)) return perfectScatter
  let low = -12
  let high = Math.log(perfectScatter)
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (opacityOf(Math.exp(middle)) < opacity) low = middle
    else high = middle
  }
  return Math.exp((low + high) / 2)
}

/** A white through which nothing comes: what passes is 1e-6, and exp(−τ) is 0 in single precision. */
export const perfectScatter = 1e6

/**
 * Optical thickness of a white for light that goes straight on: what is left of a ray after crossing with
 * slant s is exp(−τ s). τ = 4 S·d / 3 (1 − g), the diffusion estimate. Source: Ishimaru, Wave Propagation and
 * Scattering in Random Media (1978), section 9.1 (similarity relation).
 * @param forwardness g, mean cosine of scattering, 0..0.95
 */
export function straightThickness(scatter: number, forwardness: number = usualForwardness): number {
  return (4 * scatter) / (3 * (1 - forwardness))
}

/**
 * Scattered part of a white over a backing, without the part of the backing's light that came straight through
 * and is counted on the coherent path.
 * @param albedo   hemispherical reflectance of the backing
 * @param coherent whether the backing is metal, whose straight part is counted elsewhere
 * @param straight exp(−τ s), left of the coherent light
 */
export function scatteredOver(scatter: number, albedo: number, straight: number): number {
  return Math.max(0, filmOver(whiteFilm(scatter), albedo) - albedo * straight)
}
