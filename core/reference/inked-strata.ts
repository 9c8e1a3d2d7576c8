import { firstWavelength, lastWavelength } from '../color/spectrum.ts'
import { inkColumns, roomStrata, type Tables } from '../optics/tables.ts'
import { preparePath } from './shade-print.ts'
import type { Site } from './site.ts'

const nodes = (inkColumns - 1) / roomStrata
const inkStep = (lastWavelength - firstWavelength) / (inkColumns - 1)

/**
 * Light of each stratum of the spectrum through the inks of the place: X, Y, Z at the first slant, then at the second.
 * Each node of the inks stands for the half steps around it. Kept while neighbours carry the same inks.
 */
export function inkedStrata(site: Site, tables: Tables): Float64Array {
  const { print } = site
  const { strata, path } = print
  if (print.strataKnown) return strata
  print.strataKnown = true
  preparePath(site, tables, 0, inkColumns - 1)
  const light = tables.cumulative.data
  strata.fill(0)
  for (let k = 0; k < roomStrata; k++)
    for (let j = 0; j <= nodes; j++) {
      const node = k * nodes + j
      const left = 4 * (j === 0 ? node : node - 0.5) * inkStep
      const right = 4 * (j === nodes ? node : node + 0.5) * inkStep
      for (let c = 0; c < 3; c++) {
        const part = light[right + c]! - light[left + c]!
        strata[6 * k + c]! += path[node]! * part
        strata[6 * k + 3 + c]! += path[inkColumns + node]! * part
      }
    }
  return strata
}

/** `betweenSlants` of the tables for light, which may be 0. */
export function lightBetween(f0: number, f1: number, x: number): number {
  return f0 <= 0 ? 0 : (f0 * ((1 - x) * f0 + (1 + x) * f1)) / ((1 + x) * f0 + (1 - x) * f1)
}
