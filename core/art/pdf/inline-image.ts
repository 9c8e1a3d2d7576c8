import { type PDFContext, PDFName, PDFRawStream } from '../../base/pdf.ts'
import { asObject, type ContentReader, isName, type Operand } from './content.ts'

/** Short keys of inline images and what they stand for (ISO 32000-2, table 91). */
const keys: Readonly<Record<string, string>> = {
  BPC: 'BitsPerComponent',
  CS: 'ColorSpace',
  D: 'Decode',
  DP: 'DecodeParms',
  F: 'Filter',
  H: 'Height',
  IM: 'ImageMask',
  I: 'Interpolate',
  L: 'Length',
  W: 'Width',
}
/** Short names of colour spaces (table 92). */
const spaces: Readonly<Record<string, string>> = {
  G: 'DeviceGray',
  RGB: 'DeviceRGB',
  CMYK: 'DeviceCMYK',
  I: 'Indexed',
}

/** Reads what follows BI up to and with EI, as a stream like that of an image of the resources; null where none comes. */
export function readInlineImage(reader: ContentReader, context: PDFContext): PDFRawStream | null {
  const entries = new Map<string, Operand>()
  for (;;) {
    const key = reader.entry()
    if (key === undefined) {
      if (reader.operator === 'ID') break
      if (reader.at >= reader.bytes.length || reader.operator === 'EI') return null
      continue
    }
    const value = reader.entry()
    if (isName(key) && value !== undefined) entries.set(keys[key.name] ?? key.name, value)
    else if (value === undefined && reader.operator === 'ID') break
  }
  const space = entries.get('ColorSpace')
  if (space !== undefined) entries.set('ColorSpace', longSpace(space))
  // One byte of white space parts ID from the data.
  const from = reader.at + 1
  const to = dataEnd(reader.bytes, from, entries)
  reader.at = afterEnd(reader.bytes, to)
  const dict = context.obj({ Subtype: 'Image' })
  for (const [key, value] of entries) dict.set(PDFName.of(key), asObject(context, value))
  return PDFRawStream.of(dict, reader.bytes.slice(from, to))
}

function longSpace(space: Operand): Operand {
  if (isName(space)) return { name: spaces[space.name] ?? space.name }
  return Array.isArray(space) ? space.map(part => (isName(part) ? longSpace(part) : part)) : space
}

/** By the stated length or, of samples that are not packed, by their count; else at the first EI that reads as one. */
function dataEnd(bytes: Uint8Array, from: number, entries: ReadonlyMap<string, Operand>): number {
  const stated = entries.get('Length')
  const counted = typeof stated === 'number' ? stated : plainSize(entries)
  if (counted !== null && isEnd(bytes, skipSpace(bytes, from + counted))) return from + counted
  for (let at = from; at + 1 < bytes.length; at++)
    if (isEnd(bytes, at) && (at === from || isSpace(bytes[at - 1]))) return at === from ? at : at - 1
  return bytes.length
}

function plainSize(entries: ReadonlyMap<string, Operand>): number | null {
  if (entries.has('Filter')) return null
  const width = entries.get('Width')
  const height = entries.get('Height')
  const bits = entries.get('ImageMask') === true ? 1 : entries.get('BitsPerComponent')
  const space = entries.get('ColorSpace')
  const name = isName(space) ? space.name : Array.isArray(space) ? 'Indexed' : ''
  const components = { DeviceRGB: 3, DeviceCMYK: 4, DeviceGray: 1, Indexed: 1 }[name]
  const count = entries.get('ImageMask') === true ? 1 : components
  if (typeof width !== 'number' || typeof height !== 'number' || typeof bits !== 'number') return null
  return count === undefined ? null : Math.ceil((width * bits * count) / 8) * height
}

/** EI, then white space or the end, then what can be read as content: packed data can hold an EI by chance. */
function isEnd(bytes: Uint8Array, at: number): boolean {
  if (bytes[at] !== 0x45 || bytes[at + 1] !== 0x49) return false
  if (at + 2 >= bytes.length) return true
  if (!isSpace(bytes[at + 2])) return false
  for (let k = at + 3; k < Math.min(bytes.length, at + 16); k++) {
    const byte = bytes[k]!
    if (byte > 0x7e || (byte < 0x20 && !isSpace(byte))) return false
  }
  return true
}

function afterEnd(bytes: Uint8Array, to: number): number {
  const at = skipSpace(bytes, to)
  return isEnd(bytes, at) ? at + 2 : at
}

function skipSpace(bytes: Uint8Array, from: number): number {
  let at = from
  while (at < bytes.length && isSpace(bytes[at])) at++
  return at
}

const isSpace = (byte: number | undefined): boolean =>
  byte === 0 || byte === 9 || byte === 10 || byte === 12 || byte === 13 || byte === 32
