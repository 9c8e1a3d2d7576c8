import { roomMean } from '../optics/room.ts'
import type { Tables } from '../optics/tables.ts'
import type { Light } from './light.ts'
import type { Hit } from './solid.ts'

/**
 * Light of unprinted board, back or cut edge, towards any eye: it scatters evenly. A lamp's outline does not count
 * here, and no leaf throws a shadow on another.
 * @param x, y, z place, leaf frame, mm
 * @param hit     the face's outward normal
 * @param out     gets X, Y, Z at 0, 1, 2
 */
export function boardLight(
  { lamps, roomParts, surround }: Light,
  sets: readonly Tables[],
  x: number,
  y: number,
  z: number,
  { nx, ny, nz }: Pick<Hit, 'nx' | 'ny' | 'nz'>,
  out: Float64Array,
): void {
  out.fill(0)
  for (const { middle, pointScale, set } of lamps) {
    const lx = middle[0] - x
    const ly = middle[1] - y
    const lz = middle[2] - z
    const distance2 = lx * lx + ly * ly + lz * lz
    const facing = lx * nx + ly * ny + lz * nz
    if (facing > 0) add(sets[set]!, (pointScale * facing) / (distance2 * Math.sqrt(distance2)), out)
  }
  const { up, level } = surround
  if (level <= 0) return
  const taken = level * roomMean([0, 0, up[0] * nx + up[1] * ny + up[2] * nz])
  sets.forEach((tables, set) => {
    add(tables, taken * roomParts[set]!, out)
  })
}

function add({ white, boardAlbedo }: Tables, irradiance: number, out: Float64Array): void {
  for (let c = 0; c < 3; c++) out[c]! += irradiance * white[c]! * boardAlbedo[c]!
}
