import type { Tables } from '../optics/tables.ts'
import { surfaceInside } from '../optics/white.ts'
import { scatteredFactor } from './shade-print.ts'
import type { Site } from './site.ts'

/** Whether anything here scatters: white, or bare board. */
export function scatters({ whites, metal }: Site): boolean {
  if (metal < 1) return true
  for (let i = 0; i < whites.length; i++) if (whites[i]! > 0) return true
  return false
}

/** What the whites leave of a ray that crosses them on a slant and is not scattered. */
export function straightThrough(site: Site, tables: Tables, slant: number): number {
  let left = 1
  for (let i = 0; i < site.whites.length; i++) {
    const coverage = site.whites[i]!
    if (coverage > 0) left *= 1 - coverage + coverage * Math.exp(-tables.whiteStraight[i]! * slant)
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
  const { whites, metal } = site
  let X = 0
  let Y = 0
  let Z = 0
  const { foilAlbedo, boardAlbedo, paperTint } = tables
  const [tintX, tintY, tintZ] = paperTint
  for (let overlap = 0; overlap < 1 << whites.length; overlap++) {
    let area = 1
    let scatter = 0
    let thickness = 0
    for (let i = 0; i < whites.length; i++)
      if ((overlap >> i) & 1) {
        area *= whites[i]!
        scatter += tables.whiteScatter[i]!
        thickness += tables.whiteStraight[i]!
      } else area *= 1 - whites[i]!
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
