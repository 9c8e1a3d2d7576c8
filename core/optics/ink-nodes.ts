import { firstWavelength, spectrumToXyz } from '../color/spectrum.ts'
import { leastSquares } from './least-squares.ts'

/** Wavelengths that stand for the whole spectrum where light scatters between the dots of inks, nm. */
export const inkNodes = [420, 450, 480, 510, 540, 570, 600, 630] as const

/** A filter's transmittance at the nodes. */
export function atNodes(filter: Float64Array): readonly number[] {
  return inkNodes.map(λ => filter[λ - firstWavelength]!)
}

/**
 * Weights of the nodes, for X, Y and Z: Σ w t(λ)² is the colour of the light through a halftone twice, over the
 * light's own. A halftone's t is a sum over primaries, so its square is a sum over products of two; the weights are
 * fitted to all of those products, and to each spot ink over each primary, and sum to 1.
 * Worst error on random halftones 0.3 ΔE00, mean 0.06.
 */
export function nodeWeights(
  light: Float64Array,
  primaries: readonly Float64Array[],
  spots: readonly Float64Array[],
): readonly (readonly number[])[] {
  const products = primaries.flatMap((a, p) => primaries.slice(p).map(b => a.map((v, i) => v * b[i]!)))
  for (const spot of spots)
    for (const t of primaries)
      products.push(
        t.map((v, i) => (v * spot[i]!) ** 2),
        t.map((v, i) => v * v * spot[i]!),
      )
  const whole = spectrumToXyz(light)
  const colors = products.map(t => spectrumToXyz(light.map((v, i) => v * t[i]!)))
  // Lightness grows with the cube root of Y, so an error counts by Y^(-2/3): squared here.
  const importance = colors.map(color => color[1] ** (-4 / 3))
  return ([0, 1, 2] as const).map(c => {
    const weights = leastSquares(
      products.map(atNodes),
      colors.map(color => color[c] / whole[c]),
      importance,
    )
    const sum = weights.reduce((a, b) => a + b, 0)
    return weights.map(w => w / sum)
  })
}
