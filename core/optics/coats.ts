import type { Stack } from './matter.ts'
import { scatteredOver, scatterOf, straightThickness, throughSurface, whiteFilm } from './white.ts'

/** One way in which the screened white plates lie over each other: its area and its whole scattering strength. */
export interface WhiteArea {
  readonly area: number
  readonly scatter: number
}

/** All overlaps of the white plates; their screens fall at random. */
export function whiteAreas(whites: Stack['whites']): WhiteArea[] {
  let areas: WhiteArea[] = [{ area: 1, scatter: 0 }]
  for (const { coverage, opacity, hits } of whites) {
    const scatter = scatterOf(opacity) * hits
    areas = areas.flatMap(a => [
      { area: a.area * (1 - coverage), scatter: a.scatter },
      { area: a.area * coverage, scatter: a.scatter + scatter },
    ])
  }
  return areas
}

/** What the whites leave of a ray that crosses them twice on a slant and is not scattered. */
export function straightThrough(areas: readonly WhiteArea[], slant: number): number {
  return areas.reduce(
    (sum, { area, scatter }) => sum + area * Math.exp(-straightThickness(scatter) * slant),
    0,
  )
}

/**
 * Scattered light that leaves the surface: whites over a backing, area by area.
 * @param albedo  hemispherical reflectance of the backing under the surface
 * @param slant   of the straight part to leave out, or null over a backing that scatters itself
 * @param passing share of the incoming light that enters the surface
 * @param of      all of it, or of each area the part that its white does not let through
 */
export function scattered(
  areas: readonly WhiteArea[],
  albedo: number,
  slant: number | null,
  passing: number,
  of: 'all' | 'white' = 'all',
): number {
  let sum = 0
  for (const { area, scatter } of areas) {
    const straight = slant === null ? 0 : Math.exp(-straightThickness(scatter) * slant)
    const part = of === 'all' ? 1 : whiteFilm(scatter).R
    sum += area * part * throughSurface(scatteredOver(scatter, albedo, straight), passing)
  }
  return sum
}
