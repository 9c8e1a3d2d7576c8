import type { MapPlane, MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { viewSetPlane, viewsPlane } from '../../material/views.ts'

/** Reads what a pixel of a map is made of as whole numbers: equal numbers, equal matter. */
export interface MatterReader {
  /** Bits of each number; 0 for one that names something, as a groove shape. */
  readonly bits: readonly number[]
  /** The numbers of a pixel; the array is written over by the next call. */
  at(column: number, row: number): readonly number[]
}

export function matterReader(map: MaterialMap): MatterReader {
  const planes = matterPlanes(map).flatMap(({ name, named }) => {
    const plane = map.planes.get(name)
    return plane === undefined ? [] : [{ reader: new PlaneReader(plane, map.width), named, plane }]
  })
  const bits = planes.flatMap(({ plane, named }) =>
    Array.from({ length: plane.components }, (_, i) => (named.includes(i) ? 0 : bitsOf(plane))),
  )
  const values: number[] = bits.map(() => 0)
  return {
    bits,
    at: (column, row) => {
      let to = 0
      for (const { reader } of planes) {
        const from = reader.at(column, row)
        for (let i = 0; i < reader.components; i++) values[to++] = from < 0 ? 0 : reader.data[from + i]!
      }
      return values
    },
  }
}

/** Planes that matter is read from, and which of their components are names. */
export function matterPlanes(
  map: MaterialMap,
): readonly { readonly name: string; readonly named: readonly number[] }[] {
  const plain = [
    'metal',
    'C',
    'M',
    'Y',
    'K',
    'mottle',
    ...(map.varnish === null ? [] : [map.varnish]),
    ...map.whites.map(white => white.coverage),
    ...map.spots.map(spot => spot.coverage),
    viewsPlane,
    ...map.gratings.flatMap(({ kappa, spread }) => [kappa, spread]),
  ].map(name => ({ name, named: [] }))
  const reliefs = map.gratings.map(({ relief }) => ({ name: relief, named: [2] }))
  return [...plain, { name: viewSetPlane, named: [0] }, ...reliefs]
}

const bitsOf = ({ data }: MapPlane): number => 8 * data.BYTES_PER_ELEMENT
