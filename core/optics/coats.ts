import type { Stack } from './matter.ts'
import {
  scatteredOver,
  scatterOf,
  straightThickness,
  throughSurface,
  usualForwardness,
  whiteFilm,
} from './white.ts'

/** One way in which the white plates lie over each other: its area, its whole scattering strength and its thickness. */
export interface WhiteArea {
  readonly area: number
  readonly scatter: number
  /** Optical thickness τ for light that goes straight on. */
  readonly thickness: number
}

/** Part of the area that a white covers, and its scattering strength there over that of its even solid. */
export interface Laid {
  readonly cover: number
  readonly strength: number
}

/**
 * How a white of some coverage lies. `dots`: that part of the area under the solid film, the rest bare. `even`: all of
 * the area under a film that is as much thinner. Mottle makes it stronger or weaker by place.
 * @param mottle unevenness at the place, rms 1 over the plate, mean 0
 */
export function laid({ coverage, screen, mottle = 0 }: White, unevenness: number): Laid {
  const uneven = Math.max(0, 1 + mottle * unevenness)
  return screen === 'even'
    ? { cover: coverage > 0 ? 1 : 0, strength: coverage * uneven }
    : { cover: coverage, strength: uneven }
}

type White = Stack['whites'][number]

/**
 * All overlaps of the white plates; their screens fall at random.
 * @param unevenness of the place: {@link laid}
 * @param forwardness mean cosine of scattering in the pigment
 */
export function whiteAreas(
  whites: Stack['whites'],
  unevenness = 0,
  forwardness: number = usualForwardness,
): WhiteArea[] {
  let areas: { readonly area: number; readonly scatter: number }[] = [{ area: 1, scatter: 0 }]
  for (const white of whites) {
    const { cover, strength } = laid(white, unevenness)
    const scatter = scatterOf(white.opacity) * white.hits * strength
    areas = areas.flatMap(a => [
      { area: a.area * (1 - cover), scatter: a.scatter },
      { area: a.area * cover, scatter: a.scatter + scatter },
    ])
  }
  return areas.map(a => ({ ...a, thickness: straightThickness(a.scatter, forwardness) }))
}

/** What the whites leave of a ray that crosses them twice on a slant and is not scattered. */
export function straightThrough(areas: readonly WhiteArea[], slant: number): number {
  return areas.reduce((sum, { area, thickness }) => sum + area * Math.exp(-thickness * slant), 0)
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
  for (const { area, scatter, thickness } of areas) {
    const straight = slant === null ? 0 : Math.exp(-thickness * slant)
    const part = of === 'all' ? 1 : whiteFilm(scatter).R
    sum += area * part * throughSurface(scatteredOver(scatter, albedo, straight), passing)
  }
  return sum
}
