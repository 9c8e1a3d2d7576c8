import type { Tables } from '../optics/tables.ts'
import { surfaceInside } from '../optics/white.ts'
import { scatteredFactor } from './shade-print.ts'
import type { Site } from './site.ts'

/** Sets how the whites lie at the site; the optics' `laid`. Whether anything here scatters: white, or bare board. */
export function prepareWhites(site: Site, tables: Tables): boolean {
  const { whites } = site
  let scatters = site.metal < 1
  for (let i = 0; i < whites.length; i++) {
    const coverage = whites[i]!
    const uneven = Math.max(0, 1 + tables.whiteMottle[i]! * site.unevenness)
    const strength = tables.whiteEven[i]! ? coverage * uneven : uneven
    site.whiteCover[i] = tables.whiteEven[i]! && coverage > 0 ? 1 : coverage
    site.whiteScatter[i] = strength * tables.whiteScatter[i]!
    site.whiteStraight[i] = strength * tables.whiteStraight[i]!
    if (coverage > 0) scatters = true
  }
  return scatters
}

/** What the whites leave of a ray that crosses them on a slant and is not scattered. */
export function straightThrough({ whiteCover, whiteStraight }: Site, slant: number): number {
  let left = 1
  for (let i = 0; i < whiteCover.length; i++) {
    const cover = whiteCover[i]!
    if (cover > 0) left *= 1 - cover + cover * Math.exp(-whiteStraight[i]! * slant)
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
      X += a * paperX * surfaced(T, foilAlbedo[0], straight)
      Y += a * paperY * surfaced(T, foilAlbedo[1], straight)
      Z += a * paperZ * surfaced(T, foilAlbedo[2], straight)
    }
    if (metal < 1) {
      const a = area * (1 - metal)
      X += a * paperX * surfaced(T, boardAlbedo[0], 0)
      Y += a * paperY * surfaced(T, boardAlbedo[1], 0)
      Z += a * paperZ * surfaced(T, boardAlbedo[2], 0)
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
