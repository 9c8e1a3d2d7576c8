import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { demichel } from '../../optics/ink.ts'
import { gained } from '../../optics/print.ts'
import { orderZeroRow, primaryCount, slants, type Tables } from '../../optics/tables.ts'
import { layWhites, straightThrough } from '../../reference/shade-white.ts'

/**
 * How much of the light that metal sends back straight on still comes through what is printed on it, by luminance,
 * 0..1 at a pixel of the map: from the tables of the picture, both ways through the same dots. 0 where there is no
 * metal. What white scatters is not counted: it shows no holography. White's unevenness is left out.
 */
export function passingOf(map: MaterialMap, tables: Tables): (column: number, row: number) => number {
  const plane = (name: string) => new PlaneReader(map.planes.get(name), map.width)
  const part = (reader: PlaneReader, column: number, row: number) => {
    const at = reader.at(column, row)
    return at < 0 ? 0 : reader.data[at]! / 255
  }
  const metal = plane('metal')
  const inks = ['C', 'M', 'Y', 'K'].map(plane)
  const whites = map.whites.map(white => plane(white.coverage))
  const spots = map.spots.map(spot => plane(spot.coverage))
  const { orderZero, spotColor } = tables
  // A flat mirror under each overlap of the four inks.
  const luminance = (primary: number) =>
    orderZero.data[orderZeroRow(0, 0, primary) * orderZero.width * orderZero.channels + 1]!
  const filters = Float64Array.from({ length: primaryCount }, (_, p) => luminance(p) / luminance(0))
  const spotFilters = map.spots.map((_, i) => (spotColor === null ? 1 : spotColor.data[4 * i + 1]!))
  const tones = new Float64Array(4)
  const areas = new Float64Array(primaryCount)
  const coverages = new Float64Array(whites.length)
  const whiteCover = new Float64Array(whites.length)
  const whiteScatter = new Float64Array(whites.length)
  const whiteStraight = new Float64Array(whites.length)
  return (column, row) => {
    let left = part(metal, column, row)
    if (left === 0) return 0
    for (let i = 0; i < 4; i++) tones[i] = gained(part(inks[i]!, column, row), tables.toneExponents[i]!)
    demichel(tones, areas)
    let inked = 0
    for (let p = 0; p < primaryCount; p++) inked += areas[p]! * filters[p]!
    left *= inked
    for (let i = 0; i < spots.length; i++) {
      const cover = part(spots[i]!, column, row)
      left *= 1 - cover + cover * spotFilters[i]!
    }
    for (let i = 0; i < whites.length; i++) coverages[i] = part(whites[i]!, column, row)
    if (layWhites(coverages, 0, tables, whiteCover, whiteScatter, whiteStraight))
      left *= straightThrough({ whiteCover, whiteStraight, apart: null }, slants[0])
    return left
  }
}
