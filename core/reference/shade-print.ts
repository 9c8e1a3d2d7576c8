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
  if (spots.length > 0) key.set(spots, 4)
  demichel(inks, print.areas)
  print.count = 0
  for (let p = 0; p < print.areas.length; p++)
    if (print.areas[p]! > 0) {
      print.primary[print.count] = p
      print.area[print.count++] = print.areas[p]!
    }
  print.clear = print.count === 1 && print.primary[0] === 0
  for (let i = 0; i < spots.length; i++) if (spots[i]! > 0) print.clear = false
  print.scatteredKnown = false
  print.pathKnown.fill(0)
  spotFactor(print, spots, tables)
  plainColors(print, tables)
}

/**
 * Factor of the inks on scattered light: Σ w (Σ a t)² over the nodes by X, Y, Z, each node through the spot inks as
 * well. Made when first asked for.
 */
export function scatteredFactor(site: Site, tables: Tables): Float64Array {
  const { print, spots } = site
  const { scattered } = print
  if (print.scatteredKnown) return scattered
  print.scatteredKnown = true
  const inks = tables.inkNodes
  const weights = tables.nodeWeights
  let X = 0
  let Y = 0
  let Z = 0
  for (let n = 0; n < weights.width; n++) {
    const half = n >> 2
    let t = 0
    for (let k = 0; k < print.count; k++)
      t += print.area[k]! * inks.data[4 * (half * inks.width + print.primary[k]!) + (n & 3)]!
    for (let i = 0; i < spots.length; i++)
      t *= 1 - spots[i]! + spots[i]! * tables.spotNodes!.data[4 * (half * spots.length + i) + (n & 3)]!
    X += weights.data[4 * n]! * t * t
    Y += weights.data[4 * n + 1]! * t * t
    Z += weights.data[4 * n + 2]! * t * t
  }
  scattered[0] = Math.max(0, X)
  scattered[1] = Math.max(0, Y)
  scattered[2] = Math.max(0, Z)
  return scattered
}

/** Makes sure of the straight path at the ink columns `from`…`to`, both slants: Σ a t^s, times (1 − c) + c t^s of each spot ink. */
export function preparePath(site: Site, tables: Tables, from: number, to: number): void {
  const { print, spots } = site
  const { path, pathKnown } = print
  const inks = tables.inkPath.data
  for (let i = from; i <= to; i++) {
    if (pathKnown[i]) continue
    pathKnown[i] = 1
    for (let slant = 0; slant < 2; slant++) {
      let sum = 0
      for (let k = 0; k < print.count; k++) {
        const p = print.primary[k]!
        sum += print.area[k]! * inks[4 * ((slant * 4 + (p >> 2)) * inkColumns + i) + (p & 3)]!
      }
      const texels = (spots.length + 3) >> 2
      for (let j = 0; j < spots.length; j++) {
        const t = tables.spotPath!.data[4 * ((slant * texels + (j >> 2)) * inkColumns + i) + (j & 3)]!
        sum *= 1 - spots[j]! + spots[j]! * t
      }
      path[slant * inkColumns + i] = sum
    }
  }
}

function spotFactor(print: Print, spots: Float64Array, tables: Tables): void {
  print.spots.fill(1)
  for (let i = 0; i < spots.length; i++)
    for (let c = 0; c < 3; c++)
      print.spots[c]! *= 1 - spots[i]! + spots[i]! * tables.spotColor!.data[4 * i + c]!
}

/** Order 0 of no grating: the first column of any shape. */
function plainColors(print: Print, tables: Tables): void {
  const { data, width } = tables.orderZero
  const { plain } = print
  plain.fill(0)
  for (let slant = 0; slant < 2; slant++) {
    const first = orderZeroRow(0, slant, 0)
    for (let k = 0; k < print.count; k++) {
      const a = print.area[k]!
      const t = 4 * (first + print.primary[k]!) * width
      plain[3 * slant]! += a * data[t]!
      plain[3 * slant + 1]! += a * data[t + 1]!
      plain[3 * slant + 2]! += a * data[t + 2]!
    }
  }
}
