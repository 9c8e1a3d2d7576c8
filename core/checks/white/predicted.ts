import type { WhiteCoat } from '../../material/map.ts'
import { chartBelow, filmOver, scatterOf, throughSurface, whiteFilm } from '../../optics/white.ts'

/** Light part of the contrast chart: ASTM D589 / TAPPI T425. */
const chart = 0.89

/**
 * Contrast ratio that white plates print together at one place, 0..1: over black by over a chart of 0.89, read through the
 * air surface. Dots are areas of the solid beside each other and overlap by chance; an even screen is a thinner film.
 * @param coverages 0..1, one a plate
 */
export function predictedOpacity(
  plates: readonly Pick<WhiteCoat, 'opacity' | 'hits' | 'screen'>[],
  coverages: readonly number[],
): number {
  const solids = plates.map(({ opacity, hits }) => scatterOf(opacity) * hits)
  let black = 0
  let light = 0
  for (let overlap = 0; overlap < 1 << plates.length; overlap++) {
    let area = 1
    let scatter = 0
    for (let i = 0; i < plates.length; i++) {
      const there = ((overlap >> i) & 1) === 1
      const even = plates[i]!.screen === 'even'
      const cover = even ? 1 : coverages[i]!
      area *= there ? cover : 1 - cover
      if (there) scatter += solids[i]! * (even ? coverages[i]! : 1)
    }
    if (area === 0) continue
    black += area * throughSurface(whiteFilm(scatter).R, 1)
    // Bare chart too is read through a surface in contact with it, as the film's own backing is.
    light += area * throughSurface(filmOver(whiteFilm(scatter), chartBelow(chart)), 1)
  }
  return black / light
}

/** Hits that lie on a place, as coverage times hits, all plates together. */
export function hitsOf(plates: readonly Pick<WhiteCoat, 'hits'>[], coverages: readonly number[]): number {
  return plates.reduce((sum, { hits }, i) => sum + hits * coverages[i]!, 0)
}
