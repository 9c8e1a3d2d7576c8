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

/** Σ w (Σ a t)² over the nodes by X, Y, Z, each node through the spot inks as well. */
function scatteredFactor(print: Print, spots: Float64Array, tables: Tables): void {
  const inks = tables.inkNodes
  const weights = tables.nodeWeights
  print.scattered.fill(0)
  for (let n = 0; n < weights.width; n++) {
    const half = n >> 2
    let t = 0
    for (let k = 0; k < print.count; k++)
      t += print.area[k]! * inks.data[4 * (half * inks.width + print.primary[k]!) + (n & 3)]!
    for (let i = 0; i < spots.length; i++)
      t *= 1 - spots[i]! + spots[i]! * tables.spotNodes!.data[4 * (half * spots.length + i) + (n & 3)]!
    for (let c = 0; c < 3; c++) print.scattered[c]! += weights.data[4 * n + c]! * t * t
  }
  for (let c = 0; c < 3; c++) print.scattered[c] = Math.max(0, print.scattered[c]!)
}

function spotFactor(print: Print, spots: Float64Array, tables: Tables): void {
  for (let c = 0; c < 3; c++) {
    let factor = 1
    for (let i = 0; i < spots.length; i++)
      factor *= 1 - spots[i]! + spots[i]! * tables.spotColor!.data[4 * i + c]!
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
