import { demichel } from '../optics/ink.ts'
import { inkColumns, orderZeroRow, type Tables } from '../optics/tables.ts'
import type { Print, Site } from './site.ts'

/** Brings `site.print` up to date with the inks of the site; free where the neighbour had the same. */
export function preparePrint(site: Site, tables: Tables): void {
  const { print, inks, spots } = site
  const { key } = print
  let same = true
  for (let i = 0; i < 4; i++) same = same && key[i] === inks[i]
  for (let i = 0; i < spots.length; i++) same = same && key[4 + i] === spots[i]
  if (same) return
  key.set(inks)
  key.set(spots, 4)
  demichel(inks, print.areas)
  print.count = 0
  for (let p = 0; p < print.areas.length; p++)
    if (print.areas[p]! > 0) {
      print.primary[print.count] = p
      print.area[print.count++] = print.areas[p]!
    }
  print.clear = print.count === 1 && print.primary[0] === 0
  for (let i = 0; i < spots.length; i++) if (spots[i]! > 0) print.clear = false
  scatteredFactor(print, spots, tables)
  spotFactor(print, spots, tables)
  if (!print.clear) pathCurves(print, spots, tables)
  mirrorColors(print, tables)
}

/** (Σ a √v)² by X, Y, Z, times ((1 − c) + c √v)² of each spot ink. */
function scatteredFactor(print: Print, spots: Float64Array, tables: Tables): void {
  const { data } = tables.inkDiffuse
  for (let c = 0; c < 3; c++) {
    let root = 0
    for (let k = 0; k < print.count; k++) root += print.area[k]! * data[4 * print.primary[k]! + c]!
    for (let i = 0; i < spots.length; i++)
      root *= 1 - spots[i]! + spots[i]! * tables.spotColor!.data[4 * i + c]!
    print.scattered[c] = root * root
  }
}

function spotFactor(print: Print, spots: Float64Array, tables: Tables): void {
  for (let c = 0; c < 3; c++) {
    let factor = 1
    for (let i = 0; i < spots.length; i++)
      factor *= 1 - spots[i]! + spots[i]! * tables.spotColor!.data[4 * (spots.length + i) + c]!
    print.spots[c] = factor
  }
}

/** Σ a t^s at both slants over λ, times (1 − c) + c t^s of each spot ink. */
function pathCurves(print: Print, spots: Float64Array, tables: Tables): void {
  const { path } = print
  for (let slant = 0; slant < 2; slant++)
    for (let i = 0; i < inkColumns; i++) {
      let sum = 0
      for (let k = 0; k < print.count; k++) {
        const p = print.primary[k]!
        sum += print.area[k]! * tables.inkPath.data[4 * ((slant * 4 + (p >> 2)) * inkColumns + i) + (p & 3)]!
      }
      const texels = (spots.length + 3) >> 2
      for (let j = 0; j < spots.length; j++) {
        const t = tables.spotPath!.data[4 * ((slant * texels + (j >> 2)) * inkColumns + i) + (j & 3)]!
        sum *= 1 - spots[j]! + spots[j]! * t
      }
      path[slant * inkColumns + i] = sum
    }
}

/** Order 0 of no grating: the first column of any shape. */
function mirrorColors(print: Print, tables: Tables): void {
  const { data, width } = tables.orderZero
  for (let slant = 0; slant < 2; slant++)
    for (let c = 0; c < 3; c++) {
      let sum = 0
      for (let k = 0; k < print.count; k++)
        sum += print.area[k]! * data[4 * orderZeroRow(0, slant, print.primary[k]!) * width + c]!
      print.mirror[3 * slant + c] = sum
    }
}
