import type { Tables } from '../optics/tables.ts'
import { surfaceInside } from '../optics/white.ts'
import { scatteredFactor } from './shade-print.ts'
import type { Site } from './site.ts'

/** Sets how the whites lie at the site; the optics' `laid`. Whether anything here scatters: white, or bare board. */
export function prepareWhites(site: Site, tables: Tables): boolean {
  const { whites, unevenness, whiteCover, whiteScatter, whiteStraight } = site
  return layWhites(whites, unevenness, tables, whiteCover, whiteScatter, whiteStraight) || site.metal < 1
}

/** The same for whites that need not be the site's: sets how they lie, returns whether there is any. */
export function layWhites(
  whites: Float64Array,
  unevenness: number,
  tables: Tables,
  cover: Float64Array,
  scatter: Float64Array,
  straight: Float64Array,
): boolean {
  let any = false
  for (let i = 0; i < whites.length; i++) {
    const coverage = whites[i]!
    const uneven = Math.max(0, 1 + tables.whiteMottle[i]! * unevenness)
    const strength = tables.whiteEven[i]! ? coverage * uneven : uneven
    cover[i] = tables.whiteEven[i]! && coverage > 0 ? 1 : coverage
    scatter[i] = strength * tables.whiteScatter[i]!
    straight[i] = strength * tables.whiteStraight[i]!
    if (coverage > 0) any = true
  }
  return any
}

/** What the whites leave of a ray that crosses them on a slant and is not scattered. */
export function straightThrough(
  { whiteCover, whiteStraight, apart }: Pick<Site, 'whiteCover' | 'whiteStraight' | 'apart'>,
  slant: number,
): number {
  if (apart === null) return lyingTogether(whiteCover, whiteStraight, slant)
  const { cover, straight, eyeSlant, together } = apart
  const near = lyingTogether(whiteCover, whiteStraight, eyeSlant)
  const far = lyingTogether(cover, straight, slant - eyeSlant)
  const both = lyingTogether(whiteCover, whiteStraight, slant) * lyingTogether(cover, straight, slant)
  return apart.film * ((1 - together) * near * far + together * Math.sqrt(both))
}

/** Way in and way out through the same dots. */
function lyingTogether(whiteCover: Float64Array, whiteStraight: Float64Array, slant: number): number {
  let left = 1
  for (let i = 0; i < whiteCover.length; i++) {
    const cover = whiteCover[i]!
    if (cover > 0) left *= 1 - cover + cover * Math.exp(-whiteStraight[i]! * slant)
  }
  return left
}

/** What the whites of a site let through of even light from behind: each overlap passes 1/(1 + S). */
export function spreadThrough({ whiteCover, whiteScatter }: Site): number {
  return overlapsPass(whiteCover, whiteScatter)
}

/** The same of whites given by area and scattering strength of each plate. */
export function overlapsPass(cover: Float64Array, scatters: Float64Array): number {
  let left = 0
  for (let overlap = 0; overlap < 1 << cover.length; overlap++) {
    let area = 1
    let scatter = 0
    for (let i = 0; i < cover.length; i++)
      if ((overlap >> i) & 1) {
        area *= cover[i]!
        scatter += scatters[i]!
      } else area *= 1 - cover[i]!
    left += area / (1 + scatter)
  }
  return left
}

/**
 * Light that whites and bare board scatter, through the inks: `light` times what leaves the surface.
 * Each overlap of the screened plates is an area of its own.
 */
export function addScattered(
  site: Site,
  tables: Tables,
  slant: number,
  entering: number,
  light: number,
  out: Float64Array,
): void {
  const { whiteCover, whiteScatter, whiteStraight, metal } = site
  let X = 0
  let Y = 0
  let Z = 0
  const { foilAlbedo, boardAlbedo, paperTint } = tables
  const [tintX, tintY, tintZ] = paperTint
  const backing = site.apart?.backing ?? 1
  for (let overlap = 0; overlap < 1 << whiteCover.length; overlap++) {
    let area = 1
    let scatter = 0
    let thickness = 0
    for (let i = 0; i < whiteCover.length; i++)
      if ((overlap >> i) & 1) {
        area *= whiteCover[i]!
        scatter += whiteScatter[i]!
        thickness += whiteStraight[i]!
      } else area *= 1 - whiteCover[i]!
    if (area <= 0) continue
    const T = 1 / (1 + scatter)
    const paperX = 1 + (1 - T) * (tintX - 1)
    const paperY = 1 + (1 - T) * (tintY - 1)
    const paperZ = 1 + (1 - T) * (tintZ - 1)
    if (metal > 0 && scatter > 0) {
      const straight = Math.exp(-thickness * slant)
      const a = area * metal
      X += a * paperX * surfaced(T, backing * foilAlbedo[0], straight)
      Y += a * paperY * surfaced(T, backing * foilAlbedo[1], straight)
      Z += a * paperZ * surfaced(T, backing * foilAlbedo[2], straight)
    }
    if (metal < 1) {
      const a = area * (1 - metal)
      X += a * paperX * surfaced(T, backing * boardAlbedo[0], 0)
      Y += a * paperY * surfaced(T, backing * boardAlbedo[1], 0)
      Z += a * paperZ * surfaced(T, backing * boardAlbedo[2], 0)
    }
  }
  const scattered = scatteredFactor(site, tables)
  const scale = light * entering
  out[0]! += scale * X * scattered[0]! * tables.white[0]
  out[1]! += scale * Y * scattered[1]! * tables.white[1]
  out[2]! += scale * Z * scattered[2]! * tables.white[2]
}

/** A white that passes T over a backing, less the straight part, seen through the surface. */
function surfaced(T: number, albedo: number, straight: number): number {
  const film = 1 - T + (T * T * albedo) / (1 - (1 - T) * albedo)
  const inside = Math.max(0, film - albedo * straight)
  return ((1 - surfaceInside) * inside) / (1 - surfaceInside * inside)
}
