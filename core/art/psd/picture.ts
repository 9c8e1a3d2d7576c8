import type { ByteSource } from '../../base/source.ts'
import type { Box } from '../layer.ts'
import { damaged, type Place } from '../place.ts'
import { readExactly } from '../read-exactly.ts'
import { Cursor } from './cursor.ts'
import type { Header } from './header.ts'
import { type Compression, compressions, type PackedPlane } from './planes.ts'
import { rowBytes } from './samples.ts'
import { compressionCode } from './sections.ts'

/** Where the planes of the flattened picture lie. */
export interface PictureLayout {
  readonly plane: (index: number, place: Place) => PackedPlane
}

/** Table bytes read at a time. */
const chunk = 4 << 20

/**
 * Finds the planes of the flattened picture; for `rle` the table of row lengths of all planes is summed.
 * Throws when the picture is missing or cut short.
 */
export async function layoutPicture(
  source: ByteSource,
  header: Header,
  start: number,
): Promise<PictureLayout> {
  const place: Place = { file: source.name, part: 'flattened picture' }
  const code = await compressionCode(source, start, place)
  const compression = compressions[code]
  if (compression === undefined)
    throw damaged(place, start, `expected compression 0 to 3, got ${code}`, 'compression')
  const { width, height, depth, large, planes } = header
  const box: Box = { left: 0, top: 0, right: width, bottom: height }
  const bytes = rowBytes(width, depth) * height
  const first = start + 2
  const known = { compression: compression as Compression, box, depth, large }
  switch (compression) {
    case 'raw':
      if (first + bytes * planes > source.size)
        throw damaged(
          place,
          first,
          `${planes} planes need ${bytes * planes} bytes, but only ${source.size - first} follow`,
          'cut-short',
        )
      return {
        plane: (i, at) => ({ ...known, place: at, offset: first + i * bytes, end: first + (i + 1) * bytes }),
      }
    case 'rle': {
      const size = large ? 4 : 2
      const starts = await planeStarts(source, place, first, planes, height, size)
      return {
        plane: (i, at) => ({
          ...known,
          place: at,
          offset: first + i * height * size,
          rows: starts[i]!,
          end: starts[i + 1]!,
        }),
      }
    }
    case 'zip':
    case 'zipPredicted':
      return {
        plane: (i, at) => ({ ...known, place: at, offset: first, end: source.size, skip: i * bytes }),
      }
  }
}

/** Offsets of the row data of each plane, and the end of the last. */
async function planeStarts(
  source: ByteSource,
  place: Place,
  first: number,
  planes: number,
  height: number,
  size: number,
): Promise<number[]> {
  const table = planes * height * size
  let at = first + table
  const starts = [at]
  for (let i = 0; i < planes; i++) {
    for (let row = 0; row < height; ) {
      const rows = Math.min(height - row, chunk / size)
      const offset = first + (i * height + row) * size
      const lengths = new Cursor(await readExactly(source, offset, rows * size, place), offset, place)
      for (let k = 0; k < rows; k++) at += size === 4 ? lengths.u32() : lengths.u16()
      row += rows
    }
    starts.push(at)
  }
  if (at > source.size)
    throw damaged(place, first, `its rows end at byte ${at}, the file at byte ${source.size}`, 'cut-short')
  return starts
}
