import { BadInput } from '../../base/finding.ts'
import { inflateAtMost } from '../../base/inflate.ts'
import {
  decodePDFRawStream,
  PDFArray,
  type PDFContext,
  PDFDict,
  PDFName,
  PDFRawStream,
} from '../../base/pdf.ts'
import { unpackLzw } from '../lzw.ts'
import { asName, items, look, numberOf } from './objects.ts'
import { unpredict } from './predict.ts'

/** A filter that is left for a reader of images: its name and its parameters. */
export interface LeftFilter {
  readonly name: string
  readonly parameters: PDFDict | undefined
}

export interface StreamData {
  readonly bytes: Uint8Array
  /** Filters of images that are still to undo, in order; empty where all are undone. */
  readonly rest: readonly LeftFilter[]
  /** False: packed data ends early or is damaged, and `bytes` are what came before. */
  readonly whole: boolean
}

const short: Readonly<Record<string, string>> = {
  A85: 'ASCII85Decode',
  AHx: 'ASCIIHexDecode',
  CCF: 'CCITTFaxDecode',
  DCT: 'DCTDecode',
  Fl: 'FlateDecode',
  LZW: 'LZWDecode',
  RL: 'RunLengthDecode',
}
const ofImages = new Set(['DCTDecode', 'JPXDecode', 'CCITTFaxDecode', 'JBIG2Decode'])
const maxFilters = 8

/**
 * Data of a stream with its filters undone (ISO 32000-2, 7.4), up to the first that is for images alone.
 * @param file   for messages
 * @param limit  bytes; throws BadInput `stream-too-large` where more would come out of it
 * @throws BadInput `stream-filter` for a filter that is not of the standard, `stream-damaged` where nothing can be read
 */
export function streamData(file: string, stream: PDFRawStream, limit: number, what = 'stream'): StreamData {
  const filters = filtersOf(stream.dict)
  if (filters.length > maxFilters)
    throw bad('stream-filter', file, what, `names ${filters.length} filters, one after the other`)
  let bytes = stream.getContents()
  let whole = true
  for (const [at, { name, parameters }] of filters.entries()) {
    if (ofImages.has(name)) return { bytes, rest: filters.slice(at), whole }
    if (name === 'Crypt') continue
    const undone = undo(stream.dict.context, name, bytes, parameters, limit)
    if (undone === null)
      throw bad('stream-filter', file, what, `is packed by "${name}", which is no filter of PDF`)
    if (undone.end === 'over')
      throw bad('stream-too-large', file, what, `unpacks to more than ${Math.round(limit / 1e6)} MB`)
    whole &&= undone.end === 'whole'
    bytes = undone.bytes
  }
  return { bytes, rest: [], whole }
}

/** Filters of a stream or of an inline image, by their long names, with the parameters of each. */
export function filtersOf(dict: PDFDict): readonly LeftFilter[] {
  const filter = look(dict, 'Filter') ?? look(dict, 'F')
  const parms = look(dict, 'DecodeParms') ?? look(dict, 'DP')
  const names = filter instanceof PDFArray ? items(filter) : filter instanceof PDFName ? [filter] : []
  const all = parms instanceof PDFArray ? items(parms) : [parms]
  return names.map((entry, at) => {
    const name = asName(entry) ?? '?'
    const given = all[at]
    return { name: short[name] ?? name, parameters: given instanceof PDFDict ? given : undefined }
  })
}

interface Undone {
  readonly bytes: Uint8Array
  readonly end: 'whole' | 'cut' | 'over'
}

function undo(
  context: PDFContext,
  name: string,
  bytes: Uint8Array,
  parameters: PDFDict | undefined,
  limit: number,
): Undone | null {
  switch (name) {
    case 'FlateDecode':
      return predicted(inflateAtMost(bytes, limit), parameters)
    case 'LZWDecode':
      return predicted(unpackLzw(bytes, numberOf(parameters, 'EarlyChange') ?? 1, limit), parameters)
    case 'ASCII85Decode':
    case 'ASCIIHexDecode':
    case 'RunLengthDecode':
      return small(context, name, bytes, limit)
    default:
      return null
  }
}

function predicted(undone: Undone, parameters: PDFDict | undefined): Undone {
  if (undone.end === 'over') return undone
  const predictor = numberOf(parameters, 'Predictor') ?? 1
  if (predictor <= 1) return undone
  return {
    ...undone,
    bytes: unpredict(undone.bytes, {
      predictor,
      colors: numberOf(parameters, 'Colors') ?? 1,
      bits: numberOf(parameters, 'BitsPerComponent') ?? 8,
      columns: numberOf(parameters, 'Columns') ?? 1,
    }),
  }
}

/** The filters that unpack to little: 128 bytes from two at most. */
function small(context: PDFContext, name: string, bytes: Uint8Array, limit: number): Undone {
  if (bytes.length > limit) return { bytes: bytes.subarray(0, limit), end: 'over' }
  const plain = PDFRawStream.of(context.obj({ Filter: name }), bytes)
  try {
    const out = decodePDFRawStream(plain).decode()
    return out.length > limit ? { bytes: out.subarray(0, limit), end: 'over' } : { bytes: out, end: 'whole' }
  } catch {
    return { bytes: new Uint8Array(0), end: 'cut' }
  }
}

function bad(code: string, file: string, where: string, problem: string): BadInput {
  return new BadInput(code, file, where, problem, 'Export the page anew as PDF, or ask for a fresh copy.')
}
