import type { ByteSource } from '../../base/source.ts'
import type { Rows } from '../layer.ts'
import { boxWidth, type PackedPlane } from './planes.ts'
import { rowBytes } from './samples.ts'
import { readExactly } from './stream.ts'

/**
 * The part of a packed plane that holds the wanted document rows, where rows can be found without unpacking those
 * before them (raw and RLE); the whole plane where they cannot (zip) or where every row is wanted.
 */
export async function narrow(source: ByteSource, packed: PackedPlane, wanted: Rows): Promise<PackedPlane> {
  const { box, offset, compression } = packed
  const top = Math.min(box.bottom, Math.max(box.top, wanted.top))
  const bottom = Math.max(top, Math.min(box.bottom, wanted.bottom))
  if (top === box.top && bottom === box.bottom) return packed
  const part = { ...packed, box: { ...box, top, bottom } }
  switch (compression) {
    case 'raw':
      return { ...part, offset: offset + (top - box.top) * rowBytes(boxWidth(box), packed.depth) }
    case 'rle': {
      const size = packed.large ? 4 : 2
      const before = (top - box.top) * size
      const table = (box.bottom - box.top) * size
      // A table that runs past its plane is told by the decoder, on the plane as it is.
      if (offset + table > (packed.rows ?? packed.end)) return packed
      const lengths = await readExactly(source, offset, before, packed.place)
      const view = new DataView(lengths.buffer, lengths.byteOffset, lengths.length)
      let rows = packed.rows ?? offset + table
      for (let at = 0; at < before; at += size) rows += size === 4 ? view.getUint32(at) : view.getUint16(at)
      return { ...part, offset: offset + before, rows }
    }
    case 'zip':
    case 'zipPredicted':
      return packed
  }
}
