import { sampleCount } from '../color/spectrum.ts'
import { demichel, dotMean, type Inks, spotTransmittance } from './ink.ts'
import type { Stack } from './matter.ts'
import { scatteredOver, scatterOf, straightThickness, throughSurface } from './white.ts'

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
 */
export function scattered(
  areas: readonly WhiteArea[],
  albedo: number,
  slant: number | null,
  passing: number,
): number {
  let sum = 0
  for (const { area, scatter } of areas) {
    const straight = slant === null ? 0 : Math.exp(-straightThickness(scatter) * slant)
    sum += area * throughSurface(scatteredOver(scatter, albedo, straight), passing)
  }
  return sum
}

/** Both ways through the inks above everything, 401 samples each. */
export interface InkPath {
  /** Light that keeps its way: Σ a t^s, each dot on its own. */
  readonly straight: Float64Array
  /** Light that wanders between dots: (Σ a t)². */
  readonly scattered: Float64Array
}

export function inkPath(stack: Pick<Stack, 'cmyk' | 'spots'>, inks: Inks, slant: number): InkPath {
  const areas = demichel(stack.cmyk, new Float64Array(inks.primaries.length))
  const plates = stack.spots.map(({ coverage, lab }) => ({ coverage, t: spotTransmittance(lab) }))
  const straight = new Float64Array(sampleCount)
  const scattered = new Float64Array(sampleCount)
  const once = new Float64Array(areas.length)
  const twice = new Float64Array(areas.length)
  for (let i = 0; i < sampleCount; i++) {
    inks.primaries.forEach((t, p) => {
      once[p] = t[i]! ** slant
      twice[p] = t[i]! ** 2
    })
    straight[i] = dotMean(areas, once, 1)
    scattered[i] = dotMean(areas, twice, 2)
    for (const { coverage, t } of plates) {
      straight[i]! *= 1 - coverage + coverage * t[i]! ** slant
      scattered[i]! *= (1 - coverage + coverage * t[i]!) ** 2
    }
  }
  return { straight, scattered }
}
