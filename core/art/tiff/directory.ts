import type { ByteSource } from '../../base/source.ts'
import { damaged, type Place } from '../place.ts'
import { readExactly } from '../read-exactly.ts'

/** Bytes of one value by its type's number; 0 where there is no such type. Source: TIFF 6.0, section 2; 13, 16 to 18 BigTIFF. */
const typeBytes = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8, 8, 8]

/** More values than any picture has strips; above it a count is a lie. */
const mostValues = 4_000_000
const mostPages = 10_000

interface Field {
  readonly type: number
  readonly count: number
  /** Byte of the file where the values lie. */
  readonly at: number
}

/** The fields of one page; values are read when they are asked for. */
export class Directory {
  constructor(
    private readonly source: ByteSource,
    readonly place: Place,
    readonly littleEndian: boolean,
    private readonly fields: ReadonlyMap<number, Field>,
  ) {}

  has(tag: number): boolean {
    return this.fields.has(tag)
  }

  /** Where the values of a field lie; 0 where it is not there. */
  at(tag: number): number {
    return this.fields.get(tag)?.at ?? 0
  }

  count(tag: number): number {
    return this.fields.get(tag)?.count ?? 0
  }

  /** All values as numbers (fractions divided out); null where the field is not there. */
  async numbers(tag: number): Promise<Float64Array | null> {
    const field = this.fields.get(tag)
    if (field === undefined) return null
    if (field.count > mostValues)
      throw damaged(this.place, field.at, `field ${tag} says that it has ${field.count} values`)
    const size = typeBytes[field.type]!
    const bytes = await readExactly(this.source, field.at, field.count * size, this.place)
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
    const out = new Float64Array(field.count)
    for (let i = 0; i < field.count; i++) out[i] = this.value(view, i * size, field.type)
    return out
  }

  /** The first value; `otherwise` where the field is not there or empty. */
  async number(tag: number, otherwise: number): Promise<number> {
    if (this.count(tag) > 1000) return otherwise
    return (await this.numbers(tag))?.[0] ?? otherwise
  }

  /** The bytes of a field; null where it is not there. Longer ones than `most` are refused. */
  async bytes(tag: number, most: number): Promise<Uint8Array | null> {
    const field = this.fields.get(tag)
    if (field === undefined) return null
    const length = field.count * typeBytes[field.type]!
    if (length > most)
      throw damaged(
        this.place,
        field.at,
        `field ${tag} has ${length} bytes, more than the ${most} it may have`,
      )
    return readExactly(this.source, field.at, length, this.place)
  }

  private value(view: DataView, at: number, type: number): number {
    const le = this.littleEndian
    switch (type) {
      case 3:
        return view.getUint16(at, le)
      case 4:
      case 13:
        return view.getUint32(at, le)
      case 5:
        return view.getUint32(at, le) / view.getUint32(at + 4, le)
      case 6:
        return view.getInt8(at)
      case 8:
        return view.getInt16(at, le)
      case 9:
        return view.getInt32(at, le)
      case 10:
        return view.getInt32(at, le) / view.getInt32(at + 4, le)
      case 11:
        return view.getFloat32(at, le)
      case 12:
        return view.getFloat64(at, le)
      case 16:
      case 18:
        return Number(view.getBigUint64(at, le))
      case 17:
        return Number(view.getBigInt64(at, le))
      default:
        return view.getUint8(at)
    }
  }
}

/**
 * The directories of a TIFF or BigTIFF, one a page, in their order.
 * Throws BadInput where they do not lie in the file, come round in a circle, or a field is what no field can be.
 * Source: TIFF 6.0, section 2; BigTIFF: the same with 8-byte counts and offsets.
 */
export async function readDirectories(source: ByteSource): Promise<readonly Directory[]> {
  const file: Place = { file: source.name, part: null }
  const head = await readExactly(source, 0, Math.min(16, source.size), file)
  const order = String.fromCharCode(head[0] ?? 0, head[1] ?? 0)
  if (head.length < 8 || (order !== 'II' && order !== 'MM'))
    throw damaged(file, 0, 'expected a TIFF', 'not-tiff', 'Choose a TIFF file.')
  const le = order === 'II'
  const view = new DataView(head.buffer, head.byteOffset, head.byteLength)
  const version = view.getUint16(2, le)
  if (version !== 42 && version !== 43)
    throw damaged(
      file,
      2,
      `expected 42 (TIFF) or 43 (BigTIFF), got ${version}`,
      'not-tiff',
      'Choose a TIFF file.',
    )
  const big = version === 43
  if (big && head.length < 16) throw damaged(file, 0, 'its head is cut off', 'cut-short')
  const pages: Directory[] = []
  const seen = new Set<number>()
  let at = big ? Number(view.getBigUint64(8, le)) : view.getUint32(4, le)
  while (at !== 0) {
    const place: Place = { file: source.name, part: `page ${pages.length + 1}` }
    if (seen.has(at)) throw damaged(place, at, 'its directories come round in a circle')
    if (pages.length >= mostPages) throw damaged(place, at, `it has more than ${mostPages} pages`)
    seen.add(at)
    const { fields, next } = await readFields(source, at, big, le, place)
    pages.push(new Directory(source, place, le, fields))
    at = next
  }
  if (pages.length === 0) throw damaged(file, 4, 'it has no page')
  return pages
}

async function readFields(
  source: ByteSource,
  at: number,
  big: boolean,
  le: boolean,
  place: Place,
): Promise<{ readonly fields: ReadonlyMap<number, Field>; readonly next: number }> {
  const [countBytes, entry, word] = big ? [8, 20, 8] : [2, 12, 4]
  const start = viewOf(await readExactly(source, at, countBytes, place))
  const count = big ? Number(start.getBigUint64(0, le)) : start.getUint16(0, le)
  if (count === 0 || count > 65_535)
    throw damaged(place, at, `its directory says that it has ${count} fields`)
  const body = viewOf(await readExactly(source, at + countBytes, count * entry, place))
  const fields = new Map<number, Field>()
  const read = (view: DataView, offset: number) =>
    big ? Number(view.getBigUint64(offset, le)) : view.getUint32(offset, le)
  for (let i = 0; i < count; i++) {
    const from = i * entry
    const tag = body.getUint16(from, le)
    const type = body.getUint16(from + 2, le)
    const size = typeBytes[type] ?? 0
    // A type of later days: the field is passed over, as TIFF 6.0 asks.
    if (size === 0 || fields.has(tag)) continue
    const values = read(body, from + 4)
    const inside = values * size <= word
    const where = inside ? at + countBytes + from + 4 + word : read(body, from + 4 + word)
    if (where + values * size > source.size)
      throw damaged(
        place,
        at + countBytes + from,
        `the values of field ${tag} end at byte ${where + values * size}, the file at byte ${source.size}`,
        'cut-short',
      )
    fields.set(tag, { type, count: values, at: where })
  }
  // A file that ends right behind its last field has no further page.
  const tail = at + countBytes + count * entry
  if (tail + word > source.size) return { fields, next: 0 }
  return { fields, next: read(viewOf(await readExactly(source, tail, word, place)), 0) }
}

const viewOf = (bytes: Uint8Array): DataView => new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
