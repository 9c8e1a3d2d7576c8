import type { ByteSource } from '../../base/source.ts'
import { leastPacked, unpackRow } from '../packbits.ts'
import { damaged, type Place } from '../place.ts'
import { readExactly } from '../read-exactly.ts'

/** A plane of PackBits rows: a table of their lengths, and the rows themselves. */
export interface RunPlane {
  readonly place: Place
  /** Where the table begins. */
  readonly offset: number
  /** Where the rows begin, if not right behind the table. */
  readonly rows?: number
  /** First byte behind the rows. */
  readonly end: number
  /** Lengths have 4 bytes instead of 2. */
  readonly large: boolean
  readonly height: number
  /** Bytes of one row once unpacked. */
  readonly row: number
}

/** Bytes read at a time, unless one row is longer. */
const chunk = 1 << 20

/**
 * Unpacks `count` rows from row `first` on; those before are passed over.
 * @param allocate  called once the lengths are known to fit; gives the bytes to fill
 */
export async function unpackRuns<T extends Uint8Array>(
  source: ByteSource,
  plane: RunPlane,
  first: number,
  count: number,
  allocate: () => T,
): Promise<T> {
  const { place, offset, large, height, row } = plane
  const lengths = await rowLengths(source, plane)
  const out = allocate()
  const last = first + count
  let at = plane.rows ?? offset + height * (large ? 4 : 2)
  for (let y = 0; y < first; y++) at += lengths[y]!
  for (let y = first; y < last; ) {
    let length = lengths[y]!
    let stop = y + 1
    while (stop < last && length + lengths[stop]! <= chunk) length += lengths[stop++]!
    const packed = await readExactly(source, at, length, place)
    let from = 0
    for (; y < stop; y++) {
      const to = (y - first) * row
      if (!unpackRow(packed, from, from + lengths[y]!, out, to, to + row))
        throw damaged(place, at + from, `row ${y} does not unpack to ${row} bytes`)
      from += lengths[y]!
    }
    at += length
  }
  return out
}

/** Packed bytes of each row, checked: together they must fit, and each row must be long enough to be a row. */
async function rowLengths(
  source: ByteSource,
  { place, offset, rows, end, large, height, row }: RunPlane,
): Promise<Uint32Array> {
  const size = large ? 4 : 2
  if (offset + height * size > (rows ?? end))
    throw damaged(place, offset, `a table of ${height} row lengths does not fit into ${end - offset} bytes`)
  const table = await readExactly(source, offset, height * size, place)
  const view = new DataView(table.buffer, table.byteOffset, table.length)
  const lengths = new Uint32Array(height)
  const least = leastPacked(row)
  let total = 0
  for (let y = 0; y < height; y++) {
    const length = large ? view.getUint32(y * 4) : view.getUint16(y * 2)
    if (length < least)
      throw damaged(place, offset + y * size, `row ${y} of ${row} bytes cannot be packed in ${length} bytes`)
    lengths[y] = length
    total += length
  }
  const room = end - (rows ?? offset + height * size)
  if (total > room)
    throw damaged(place, offset, `the rows need ${total} bytes, but only ${room} are there`, 'cut-short')
  return lengths
}
