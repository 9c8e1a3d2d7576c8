import { firstWavelength, sampleCount } from '../color/spectrum.ts'
import { aluminium } from '../data/aluminium.ts'
import { fresnelMetal, hemisphericalMean } from './fresnel.ts'

/**
 * Complex refractive index n − ik of evaporated aluminium.
 * @param λ wavelength in nm, 365–794
 * Source: A. D. Rakić, Applied Optics 34, 4755 (1995); straight between the tabulated wavelengths.
 */
export function aluminiumIndex(λ: number): readonly [n: number, k: number] {
  const μm = λ / 1000
  let i = 0
  while (i < aluminium.length - 2 && aluminium[i + 1]![0] <= μm) i++
  const [from, n0, k0] = aluminium[i]!
  const [to, n1, k1] = aluminium[i + 1]!
  const part = (μm - from) / (to - from)
  return [n0 + part * (n1 - n0), k0 + part * (k1 - k0)]
}

/** Reflectance of aluminium under a coat of index `coat`; `cosIn` inside the coat; λ in nm. */
export function metalReflectance(λ: number, cosIn: number, coat: number): number {
  const [n, k] = aluminiumIndex(λ)
  return fresnelMetal(cosIn, coat, n, k)
}

/** Reflectance on a slant, √(R(l) R(v)): the same whichever way the light goes. Cosines inside the coat. */
export function pathReflectance(λ: number, cosLamp: number, cosEye: number, coat: number): number {
  return Math.sqrt(metalReflectance(λ, cosLamp, coat) * metalReflectance(λ, cosEye, coat))
}

/**
 * Share of evenly scattered light that aluminium under a coat throws back, 401 samples.
 * @param tint transmittance of a coloured coat in one pass, straight on; 401 samples, or null when it is clear
 */
export function metalAlbedo(coat: number, tint: Float64Array | null = null): Float64Array {
  return Float64Array.from({ length: sampleCount }, (_, i) =>
    hemisphericalMean(
      cos => metalReflectance(firstWavelength + i, cos, coat) * (tint === null ? 1 : tint[i]! ** (2 / cos)),
      64,
    ),
  )
}
