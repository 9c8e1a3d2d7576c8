import { BadInput } from '../../base/finding.ts'
import { inflateInto } from '../../base/inflate.ts'
import type { ByteSource } from '../../base/source.ts'
import { boxHeight, boxWidth } from '../box.ts'
import type { Box, Plane, Rows } from '../layer.ts'
import { damaged, type Place } from '../place.ts'
import { checkBudget, mebibytes } from '../plane-budget.ts'
import { readExactly } from '../read-exactly.ts'
import { unpackRuns } from './runs.ts'
import { rowBytes, toSamples } from './samples.ts'

/** How the samples of a plane are packed; the numbers are the file's. */
export const compressions = ['raw', 'rle', 'zip', 'zipPredicted'] as const
export type Compression = (typeof compressions)[number]

/** Where a plane lies in the file and how it is packed. */
export interface PackedPlane {
  readonly place: Place
  readonly compression: Compression
  readonly box: Box
  readonly depth: number
  /** First byte of the samples; of the table of row lengths for `rle`. */
  readonly offset: number
  /** First byte behind them. */
  readonly end: number
  /** `rle`: where the row data begins, if not right behind the table. */
  readonly rows?: number
  /** `rle`: row lengths have 4 bytes (PSB) instead of 2. */
  readonly large: boolean
  /** `zip`: unpacked bytes of other planes in front of this one. */
  readonly skip?: number
}

/** Bytes read at a time. */
const chunk = 1 << 20
/** Small, because deflate may unpack to 1032 times its size. */
const zipChunk = 1 << 16
const mostDeflate = 1032

/**
 * Decodes one plane, or the part of it that holds certain document rows where the packing lets the rest be skipped
 * (zip does not). Its size is checked against the bytes that are there and the budget before anything is allocated;
 * beside the plane no more than 1 MiB (zip: about 64 MiB) is held.
 * @param budget  bytes that the decoded plane may take
 */
export async function decodePlane(
  source: ByteSource,
  packed: PackedPlane,
  budget: number,
  rows?: Rows,
): Promise<Plane> {
  const { depth, place, offset, end, compression } = packed
  const zipped = compression === 'zip' || compression === 'zipPredicted'
  const box = zipped ? packed.box : onlyRows(packed.box, rows)
  const first = box.top - packed.box.top
  const width = boxWidth(box)
  const height = boxHeight(box)
  checkBudget(box, depth, budget, place, offset)
  const row = rowBytes(width, depth)
  const total = row * height
  if (end > source.size)
    throw damaged(
      place,
      offset,
      `the samples end at byte ${end}, the file at byte ${source.size}`,
      'cut-short',
    )
  let bytes: Uint8Array<ArrayBuffer>
  switch (compression) {
    case 'raw': {
      const start = offset + first * row
      if (end - start < total) throw tooFew(place, offset, total, end - start)
      bytes = allocate(total, place, offset)
      for (let at = 0; at < total; at += chunk)
        bytes.set(await readExactly(source, start + at, Math.min(chunk, total - at), place), at)
      break
    }
    case 'rle': {
      const whole = { ...packed, height: boxHeight(packed.box), row }
      bytes = await unpackRuns(source, whole, first, height, () => allocate(total, place, offset))
      break
    }
    case 'zip':
    case 'zipPredicted': {
      if ((end - offset) * mostDeflate < total + (packed.skip ?? 0))
        throw tooFew(place, offset, total, end - offset)
      bytes = allocate(total, place, offset)
      await unzip(source, packed, bytes)
      break
    }
  }
  return { box, data: toSamples(bytes, width, height, depth, compression === 'zipPredicted') }
}

function onlyRows(box: Box, rows: Rows | undefined): Box {
  if (rows === undefined || boxHeight(box) === 0) return box
  const top = Math.min(box.bottom, Math.max(box.top, rows.top))
  return { ...box, top, bottom: Math.max(top, Math.min(box.bottom, rows.bottom)) }
}

function tooFew(place: Place, at: number, expected: number, got: number): BadInput {
  return damaged(place, at, `${expected} bytes of samples cannot come from the ${got} bytes that are there`)
}

function allocate(length: number, place: Place, at: number): Uint8Array<ArrayBuffer> {
  try {
    return new Uint8Array(length)
  } catch {
    throw damaged(
      place,
      at,
      `there is no memory for a plane of ${mebibytes(length)}`,
      'out-of-memory',
      'Close other programs, or save the art at a lower resolution.',
    )
  }
}

async function unzip(source: ByteSource, packed: PackedPlane, out: Uint8Array): Promise<void> {
  const { place, offset, end } = packed
  let at = offset
  const pull = async (): Promise<Uint8Array | null> => {
    if (at >= end) return null
    const length = Math.min(zipChunk, end - at)
    const bytes = await readExactly(source, at, length, place)
    at += length
    return bytes
  }
  let written: number
  try {
    written = await inflateInto(pull, out, packed.skip)
  } catch (cause) {
    if (cause instanceof BadInput) throw cause
    throw damaged(
      place,
      offset,
      `the zip data is damaged (${cause instanceof Error ? cause.message : String(cause)})`,
    )
  }
  if (written < out.length) throw tooFew(place, offset, out.length, end - offset)
}
