import { fresnel, fresnelMetal, hemisphericalMean, refracted } from '../../../core/optics/fresnel.ts'
import { aluminiumIndex, metalReflectance } from '../../../core/optics/metal.ts'
import { surfaceInside } from '../../../core/optics/white.ts'
import { inFurnace, onlyAt } from '../../support/furnace.ts'
import { degrees, foil, radians, toward } from '../../support/optics.ts'
import { ofNumbers, type Quantities } from '../row.ts'
import { root } from './search.ts'

/** What the unpolarised reflectance leaves for p once s is taken off; it touches 0 at Brewster's angle. */
function parallel(θ: number, n: number): number {
  const cos = Math.cos(radians(θ))
  const cosOut = refracted(cos, n)
  return 2 * fresnel(cos, n) - ((cos - n * cosOut) / (cos + n * cosOut)) ** 2
}

/** Reflectances of surfaces and of the metal. Angles in degrees. */
export const surfaces: Quantities = {
  'surface reflectance': ofNumbers((θ, n) => fresnel(Math.cos(radians(θ!)), n!)),
  'Brewster angle': ofNumbers(n => root(θ => parallel(θ + 0.001, n!) - parallel(θ - 0.001, n!), 1, 89)),
  'critical angle': ofNumbers(n =>
    degrees(Math.asin(Math.sin(root(θ => (fresnel(Math.cos(θ), 1 / n!) >= 1 ? 1 : -1), 0, Math.PI / 2)))),
  ),
  'even reflectance': ofNumbers(n => hemisphericalMean(cos => fresnel(cos, n!), 20_000)),
  'inside surface constant': () => surfaceInside,
  'aluminium index': ofNumbers(λ => aluminiumIndex(λ!)),
  'aluminium reflectance': ofNumbers((λ, coat) => metalReflectance(λ!, 1, coat!)),
  'aluminium reflectances': ofNumbers((...λs) => λs.map(λ => metalReflectance(λ, 1, 1))),
  'mirror in an even room': ofNumbers((θ, λ) => inFurnace(foil(), toward(θ!), onlyAt(λ!))[1]),
  'metal reflectance': ofNumbers((n, k, coat) => fresnelMetal(1, coat!, n!, k!)),
  'metal reflectances': ofNumbers((n, k) => [fresnelMetal(1, 1, n!, k!), fresnelMetal(1, 1.5, n!, k!)]),
}
