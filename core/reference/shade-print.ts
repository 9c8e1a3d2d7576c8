import { factorShelf } from '../color/print-condition.ts'
import { demichel } from '../optics/ink.ts'
import { inkNodes } from '../optics/ink-nodes.ts'
import { gained } from '../optics/print.ts'
import { inkColumns, orderZeroRow, printNodes, type Tables } from '../optics/tables.ts'
import type { Print, Site } from './site.ts'

/** Brings `site.print` up to date with the inks of the site; free where the neighbour had the same. */
export function preparePrint({ print, inks, spots }: Site, tables: Tables): void {
  setPrint(print, inks, spots, tables)
}

/** The same for inks that need not be the site's. */
export function setPrint(print: Print, inks: Float64Array, spots: Float64Array, tables: Tables): void {
  const { key } = print
  let same = true
  for (let i = 0; i < 4; i++) same = same && key[i] === inks[i]
  for (let i = 0; i < spots.length; i++) same = same && key[4 + i] === spots[i]
  if (same) return
  print.version++
  for (let i = 0; i < 4; i++) key[i] = inks[i]!
  if (spots.length > 0) key.set(spots, 4)
  const { toneExponents } = tables
  for (let i = 0; i < 4; i++)
    print.tones[i] = toneExponents[i] === 1 ? inks[i]! : gained(inks[i]!, toneExponents[i]!)
  demichel(print.tones, print.areas)
  print.count = 0
  for (let p = 0; p < print.areas.length; p++)
    if (print.areas[p]! > 0) {
      print.primary[print.count] = p
      print.area[print.count++] = print.areas[p]!
    }
  print.blank = print.count === 1 && print.primary[0] === 0
  for (let i = 0; i < spots.length; i++) if (spots[i]! > 0) print.blank = false
  print.clear = print.blank && !tables.tinted
  print.scatteredKnown = false
  print.pathKnown.fill(0)
  print.strataKnown = false
  print.zeroColumn = -1
  spotFactor(print, spots, tables)
  plainColors(print, tables)
}

/** Factor of the inks on scattered light, X, Y, Z: print on paper, and what spot inks change. Made when first asked for. */
export function scatteredFactor(site: Site, tables: Tables): Float64Array {
  return scatteredBy(site.print, tables)
}

function scatteredBy(print: Print, tables: Tables): Float64Array {
  const { scattered, key, parts } = print
  if (print.scatteredKnown) return scattered
  print.scatteredKnown = true
  if (parts !== null) {
    const near = scatteredBy(parts[0], tables)
    const far = scatteredBy(parts[1], tables)
    for (let c = 0; c < 3; c++) scattered[c] = Math.sqrt(near[c]! * far[c]!)
    return scattered
  }
  if (print.blank) return scattered.fill(1)
  printed(key, tables, scattered)
  for (let i = 4; i < key.length; i++)
    if (key[i]! > 0) {
      throughSpots(print, tables, scattered)
      break
    }
  return scattered
}

/** The print table between its nodes: straight lines in all four inks between roots. */
function printed(inks: Float64Array, tables: Tables, out: Float64Array): void {
  const { data, width } = tables.printTable
  const last = printNodes - 1
  const c = Math.min((inks[0]! * last) | 0, last - 1)
  const m = Math.min((inks[1]! * last) | 0, last - 1)
  const y = Math.min((inks[2]! * last) | 0, last - 1)
  const k = Math.min((inks[3]! * last) | 0, last - 1)
  const first = (y + printNodes * k) * width + c + printNodes * m
  let X = 0
  let Y = 0
  let Z = 0
  for (let corner = 0; corner < 16; corner++) {
    const right = corner & 1
    const above = (corner >> 1) & 1
    const yellow = (corner >> 2) & 1
    const black = corner >> 3
    const weight =
      (right ? inks[0]! * last - c : 1 - (inks[0]! * last - c)) *
      (above ? inks[1]! * last - m : 1 - (inks[1]! * last - m)) *
      (yellow ? inks[2]! * last - y : 1 - (inks[2]! * last - y)) *
      (black ? inks[3]! * last - k : 1 - (inks[3]! * last - k))
    if (weight <= 0) continue
    const at = 4 * (first + right + printNodes * above + width * (yellow + printNodes * black))
    X += weight * data[at]!
    Y += weight * data[at + 1]!
    Z += weight * data[at + 2]!
  }
  out[0] = Math.max(0, X * X - factorShelf)
  out[1] = Math.max(0, Y * Y - factorShelf)
  out[2] = Math.max(0, Z * Z - factorShelf)
}

/** Light through process and spot inks over light through the process inks alone: Σ w (Σ a t)² over the nodes. */
function throughSpots({ key, areas: room }: Print, tables: Tables, out: Float64Array): void {
  const { data, width } = tables.spotNodes!
  const areas = demichel(key, room)
  const spots = key.length - 4
  let X = 0
  let Y = 0
  let Z = 0
  let bareX = 0
  let bareY = 0
  let bareZ = 0
  for (let n = 0; n < inkNodes.length; n++) {
    const half = n >> 2
    let t = 0
    for (let p = 0; p < areas.length; p++)
      if (areas[p]! > 0) t += areas[p]! * data[4 * (half * width + p) + (n & 3)]!
    let spot = 1
    for (let i = 0; i < spots; i++) {
      const c = key[4 + i]!
      spot *= 1 - c + c * data[4 * ((2 + half) * width + i) + (n & 3)]!
    }
    const weights = 4 * (4 * width + n)
    const bare = t * t
    const through = bare * spot * spot
    X += data[weights]! * through
    Y += data[weights + 1]! * through
    Z += data[weights + 2]! * through
    bareX += data[weights]! * bare
    bareY += data[weights + 1]! * bare
    bareZ += data[weights + 2]! * bare
  }
  out[0]! *= Math.max(0, X / bareX)
  out[1]! *= Math.max(0, Y / bareY)
  out[2]! *= Math.max(0, Z / bareZ)
}

/** Makes sure of the straight path at the ink columns `from`…`to`, both slants: Σ a t^s, times (1 − c) + c t^s of each spot ink. */
export function preparePath({ print }: Site, tables: Tables, from: number, to: number): void {
  pathOf(print, tables, from, to)
}

function pathOf(print: Print, tables: Tables, from: number, to: number): void {
  const { path, pathKnown, key, parts } = print
  if (parts !== null) {
    for (const part of parts) pathOf(part, tables, from, to)
    const [near, far] = parts
    for (let i = from; i <= to; i++) {
      if (pathKnown[i]) continue
      pathKnown[i] = 1
      path[i] = Math.sqrt(near.path[i]! * far.path[i]!)
      const second = inkColumns + i
      path[second] = Math.sqrt(near.path[second]! * far.path[second]!)
    }
    return
  }
  const spots = key.length - 4
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
      const texels = (spots + 3) >> 2
      for (let j = 0; j < spots; j++) {
        const c = key[4 + j]!
        const t = tables.spotPath!.data[4 * ((slant * texels + (j >> 2)) * inkColumns + i) + (j & 3)]!
        sum *= 1 - c + c * t
      }
      path[slant * inkColumns + i] = sum
    }
  }
}

/**
 * Makes of a print of two parts, both up to date, what their inks do to a ray that crosses one at the lamp's side and one at
 * the eye's: the root of the product of the two ways there and back. True for solids; of a halftone the part that the two
 * crossings share is counted as if both met the same dots.
 */
export function joinPrints(print: Print): void {
  const [near, far] = print.parts!
  print.blank = near.blank && far.blank
  print.clear = near.clear && far.clear
  print.scatteredKnown = false
  print.pathKnown.fill(0)
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
