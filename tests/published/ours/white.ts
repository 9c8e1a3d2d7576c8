import {
  filmOver,
  opacityOf,
  scatterOf,
  straightThickness,
  throughSurface,
  underSurface,
  whiteFilm,
} from '../../../core/optics/white.ts'
import { ofNumbers, type Quantities } from '../row.ts'

/** What enters the air surface at the instrument's angle. */
const passing = 0.96

/** Reads a white over black and over a chart that itself reads 0.89, both through the surface. */
function instrument(scatter: number): number {
  const film = whiteFilm(scatter)
  const black = throughSurface(filmOver(film, 0), passing)
  const chart = throughSurface(filmOver(film, underSurface(0.89, passing)), passing)
  return black / chart
}

/** Opaque white, between what was measured and what the film is. */
export const white: Quantities = {
  'white film': ofNumbers(contrast => {
    const scatter = scatterOf(contrast!)
    const { R, T } = whiteFilm(scatter)
    return [R, T * T, 100 * opacityOf(2 * scatter)]
  }),
  'opacity read back': ofNumbers(contrast => instrument(scatterOf(contrast!))),
  'contrast of readings': ofNumbers((black, chart) => (100 * black!) / chart!),
  'straight share': ofNumbers(r => Math.exp(-2 * straightThickness(r! / (1 - r!)))),
  'thickness over scattering': () => straightThickness(1),
}
