import { sha256Hex } from '../base/sha256.ts'
import type { MapPlane, MaterialMap } from '../material/map.ts'
import { codeSamples } from './foretell.ts'
import type { Packed, PackedPlane, PlainPlane } from './planes.ts'
import { printPlane } from './print-plane.ts'
import { BitWriter } from './range-coder.ts'

/** All planes of a map, each tile index that several share once, and the table of its print condition. */
export function plainPlanes(map: MaterialMap): readonly PlainPlane[] {
  const indexes = new Map<Int32Array, PlainPlane>()
  const planes = [...map.planes].map(([name, plane]) => plain(name, plane, map, indexes))
  const print = map.print ? [printPlane(map.print)] : []
  return [...indexes.values(), ...planes, ...print]
}

function plain(
  name: string,
  plane: MapPlane,
  { width, height }: Pick<MaterialMap, 'width' | 'height'>,
  indexes: Map<Int32Array, PlainPlane>,
): PlainPlane {
  const { components, data } = plane
  if (plane.layout === 'full') return { name, components, columns: width, rows: height, tiles: null, data }
  const { tile: side, index } = plane
  const known = indexes.get(index) ?? indexPlane(`tiles ${indexes.size + 1}`, index, Math.ceil(width / side))
  indexes.set(index, known)
  const rows = data.length / (side * components)
  return { name, components, columns: side, rows, tiles: { side, index: known.name }, data }
}

/** Numbers of blocks as 16 bits twice, low and high: a map has more tiles than 16 bits tell only past 250 million pixels. */
function indexPlane(name: string, index: Int32Array, columns: number): PlainPlane {
  const data = new Uint16Array(index.buffer.slice(index.byteOffset, index.byteOffset + index.byteLength))
  return { name, components: 2, columns, rows: index.length / columns, tiles: null, data }
}

export function packPlane({ data, ...plane }: PlainPlane): Packed {
  const { components, columns, rows } = plane
  const writer = new BitWriter()
  for (let c = 0; c < components; c++) codeSamples(writer, componentOf(data, components, c), columns, rows)
  const bytes = writer.finish()
  const entry: PackedPlane = {
    ...plane,
    samples: data instanceof Uint8Array ? 'u8' : data instanceof Int16Array ? 'i16' : 'u16',
    packing: 'foretold',
    bytes: bytes.length,
    sha256: sha256Hex(bytes),
  }
  return { entry, bytes }
}

/** One component alone; what is signed as the unsigned numbers of the same bits. */
export function componentOf(
  data: PlainPlane['data'],
  components: number,
  c: number,
): Uint8Array | Uint16Array {
  const count = data.length / components
  const out = data instanceof Uint8Array ? new Uint8Array(count) : new Uint16Array(count)
  for (let i = 0; i < count; i++) out[i] = data[i * components + c]!
  return out
}
