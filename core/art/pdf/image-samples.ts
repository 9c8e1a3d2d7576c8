import { decodeJpeg, jpegHead, jpegMemory } from '../../base/jpeg.ts'
import type { PDFDict, PDFRawStream } from '../../base/pdf.ts'
import { booleanOf, numberOf, streamOf } from './objects.ts'
import type { Reading } from './reading.ts'
import { type LeftFilter, streamData } from './stream.ts'

/** Samples of an image as its coding gives them, rows from the top, components of a pixel together. */
export interface Samples {
  readonly width: number
  /** Rows that are there; fewer than the image has where its data end early. */
  readonly rows: number
  readonly channels: number
  /** 1: eight to a byte, the first highest, one channel, rows on whole bytes. 8: a byte each. */
  readonly bits: 1 | 8
  /** Of the codes that the file holds, which say how many a byte stands for: 255 of 8 bits, 15 of 4. */
  readonly largest: number
  readonly data: Uint8Array
}

/** What an image's dictionary says of its samples. */
export interface SampleWords {
  readonly width: number
  readonly height: number
  /** As its colour space has; null where its own coding says. */
  readonly components: number | null
  readonly bits: number
  readonly indexed: boolean
}

/** Bytes that one image may take, unpacked. */
export const mostImageBytes = 2 ** 30

/** Something is wrong with an image; the message stands after "the image". */
export class ImageFault extends Error {}

/**
 * Undoes every filter of an image. Throws {@link ImageFault}, also where it would take more than
 * {@link mostImageBytes}, and what the stream reader throws.
 */
export async function readSamples(
  reading: Reading,
  stream: PDFRawStream,
  words: SampleWords,
  where: string,
): Promise<Samples> {
  const { width, height, bits } = words
  const components = words.components ?? 1
  const rowBytes = Math.ceil((width * components * bits) / 8)
  const size = rowBytes * height
  const held = bits === 1 && components === 1 ? size : width * height * components
  if (Math.max(size, held) > mostImageBytes)
    throw new ImageFault(`has ${width} × ${height} pixels, more than can be held`)
  // A last row may be followed by an end of line and the like.
  const { bytes, rest } = streamData(reading.file, stream, size + 65536, where)
  const coded = rest[0]
  if (coded === undefined) return plain(bytes, words, components)
  if (rest.length > 1) throw new ImageFault('is packed once more behind its own coding')
  try {
    return await decoded(reading, bytes, coded, words)
  } catch (error) {
    if (error instanceof ImageFault) throw error
    throw new ImageFault(`is damaged: ${error instanceof Error ? error.message : 'it cannot be decoded'}`)
  }
}

function decoded(
  reading: Reading,
  bytes: Uint8Array,
  { name, parameters }: LeftFilter,
  words: SampleWords,
): Promise<Samples> | Samples {
  switch (name) {
    case 'DCTDecode':
      return ofJpeg(bytes, parameters)
    case 'JPXDecode':
      return ofJpx(reading, bytes, words)
    case 'CCITTFaxDecode':
      return ofFax(reading, bytes, parameters, words)
    case 'JBIG2Decode':
      return ofJbig2(reading, bytes, parameters, words)
    default:
      throw new ImageFault(`is packed by "${name}", which is no coding of images`)
  }
}

function ofJpeg(bytes: Uint8Array, parameters: PDFDict | undefined): Samples {
  const memory = jpegMemory(jpegHead(bytes))
  if (memory > 2 * mostImageBytes) throw new ImageFault('has more pixels than can be held')
  // ISO 32000-2, table 13: a segment in the image goes before the parameter.
  const transform = numberOf(parameters, 'ColorTransform')
  const { width, height, components, data } = decodeJpeg(
    bytes,
    transform === undefined ? 'auto' : transform === 0 ? 'none' : 'ycc',
  )
  return {
    width,
    rows: height,
    channels: components,
    bits: 8,
    largest: 255,
    data: new Uint8Array(data.buffer, data.byteOffset, data.length),
  }
}

async function ofJpx(reading: Reading, bytes: Uint8Array, { indexed, bits }: SampleWords): Promise<Samples> {
  const { width, height, components, data } = await reading.codecs.jpx(bytes, indexed)
  const largest = indexed ? 2 ** Math.min(8, bits) - 1 : 255
  return { width, rows: height, channels: components, bits: 8, largest, data }
}

async function ofFax(
  reading: Reading,
  bytes: Uint8Array,
  parameters: PDFDict | undefined,
  { width, height }: SampleWords,
): Promise<Samples> {
  const columns = numberOf(parameters, 'Columns') ?? 1728
  if (!(columns >= 1 && columns <= 1 << 20)) throw new ImageFault(`has ${columns} columns`)
  const data = await reading.codecs.fax(bytes, height, {
    k: numberOf(parameters, 'K') ?? 0,
    columns,
    rows: numberOf(parameters, 'Rows') ?? 0,
    endOfLine: booleanOf(parameters, 'EndOfLine') ?? false,
    byteAlign: booleanOf(parameters, 'EncodedByteAlign') ?? false,
    blackIs1: booleanOf(parameters, 'BlackIs1') ?? false,
  })
  return packedRows(data, columns, width)
}

async function ofJbig2(
  reading: Reading,
  bytes: Uint8Array,
  parameters: PDFDict | undefined,
  { width, height }: SampleWords,
): Promise<Samples> {
  const shared = streamOf(parameters, 'JBIG2Globals')
  const globals =
    shared === undefined
      ? null
      : streamData(reading.file, shared, mostImageBytes, 'shared parts of images').bytes
  return packedRows(await reading.codecs.jbig2(bytes, globals, width, height), width, width)
}

/** Rows of one bit that may be longer than the image is wide, never shorter. */
function packedRows(data: Uint8Array, columns: number, width: number): Samples {
  const rowBytes = Math.ceil(columns / 8)
  const rows = Math.floor(data.length / rowBytes)
  const own = Math.ceil(width / 8)
  if (own === rowBytes) return { width, rows, channels: 1, bits: 1, largest: 1, data }
  const out = new Uint8Array(own * rows)
  for (let y = 0; y < rows; y++)
    out.set(data.subarray(y * rowBytes, y * rowBytes + Math.min(own, rowBytes)), y * own)
  return { width, rows, channels: 1, bits: 1, largest: 1, data: out }
}

/** Samples of 1, 2, 4, 8 or 16 bits, rows on whole bytes. */
function plain(bytes: Uint8Array, { width, height, bits }: SampleWords, channels: number): Samples {
  const rowBytes = Math.ceil((width * channels * bits) / 8)
  const rows = Math.min(height, Math.floor(bytes.length / rowBytes))
  const common = { width, rows, channels, largest: 2 ** Math.min(8, bits) - 1 }
  if (bits === 8) return { ...common, bits: 8, data: bytes.subarray(0, rows * rowBytes) }
  if (bits === 1 && channels === 1) return { ...common, bits: 1, data: bytes.subarray(0, rows * rowBytes) }
  const across = width * channels
  const data = new Uint8Array(across * rows)
  for (let y = 0; y < rows; y++) {
    const from = y * rowBytes
    const to = y * across
    if (bits === 16)
      // 65535 is 255 × 257: the nearest of 8 bits.
      for (let i = 0; i < across; i++)
        data[to + i] = Math.round(((bytes[from + 2 * i]! << 8) | bytes[from + 2 * i + 1]!) / 257)
    else {
      const mask = (1 << bits) - 1
      for (let i = 0; i < across; i++)
        data[to + i] = (bytes[from + ((i * bits) >> 3)]! >> (8 - bits - ((i * bits) & 7))) & mask
    }
  }
  return { ...common, bits: 8, data }
}
