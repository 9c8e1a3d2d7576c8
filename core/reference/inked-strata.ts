import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { inkColumns, primaryCount, roomStrata, type Tables } from '../optics/tables.ts'
import { preparePath } from './shade-print.ts'
import type { Site } from './site.ts'

const nodes = (inkColumns - 1) / roomStrata
const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)
/** Numbers of one primary: X, Y, Z at two slants of every stratum. */
export const strataSize = 6 * roomStrata

/**
 * Light of each stratum of the spectrum through the inks of the place: X, Y, Z at the first slant, then at the second.
 * Each node of the inks stands for the half steps around it. Kept while neighbours carry the same inks.
 */
export function inkedStrata(site: Site, tables: Tables): Float64Array {
  const { print } = site
  const { strata } = print
  if (print.strataKnown) return strata
  print.strataKnown = true
  strata.fill(0)
  if (site.spots.length > 0) {
    preparePath(site, tables, 0, inkColumns - 1)
    addStrata(tables, print.path, strata, 0)
    return strata
  }
  // Without spot inks the path is a sum over the primaries, and so is its light.
  const primaries = primaryStrata(tables)
  for (let k = 0; k < print.count; k++) {
    const area = print.area[k]!
    const from = strataSize * print.primary[k]!
    for (let i = 0; i < strataSize; i++) strata[i]! += area * primaries[from + i]!
  }
  return strata
}

const kept = new WeakMap<Tables, Float64Array>()

/** Light of the strata through each primary alone, as `inkedStrata` has it, one primary after the other. */
export function primaryStrata(tables: Tables): Float64Array {
  const known = kept.get(tables)
  if (known !== undefined) return known
  const made = new Float64Array(primaryCount * strataSize)
  const path = new Float64Array(2 * inkColumns)
  const { data } = tables.inkPath
  for (let p = 0; p < primaryCount; p++) {
    for (let slant = 0; slant < 2; slant++)
      for (let i = 0; i < inkColumns; i++)
        path[slant * inkColumns + i] = data[4 * ((slant * 4 + (p >> 2)) * inkColumns + i) + (p & 3)]!
    addStrata(tables, path, made, strataSize * p)
  }
  kept.set(tables, made)
  return made
}

/** @param path over λ at both slants, one after the other */
function addStrata(tables: Tables, path: Float64Array, out: Float64Array, from: number): void {
  const light = tables.cumulative.data
  for (let k = 0; k < roomStrata; k++)
    for (let j = 0; j <= nodes; j++) {
      const node = k * nodes + j
      const left = 4 * (j === 0 ? node : node - 0.5) * inkStep
      const right = 4 * (j === nodes ? node : node + 0.5) * inkStep
      for (let c = 0; c < 3; c++) {
        const part = light[right + c]! - light[left + c]!
        out[from + 6 * k + c]! += path[node]! * part
        out[from + 6 * k + 3 + c]! += path[inkColumns + node]! * part
      }
    }
}

/** `betweenSlants` of the tables for light, which may be 0. */
export function lightBetween(f0: number, f1: number, x: number): number {
  return f0 <= 0 ? 0 : (f0 * ((1 - x) * f0 + (1 + x) * f1)) / ((1 + x) * f0 + (1 - x) * f1)
}
