import { deflate } from '../base/inflate.ts'
import { ascii, type Field, longs, packFields, rational, shorts, undefinedBytes } from './tiff-fields.ts'

/** What the samples of a picture stand for. */
export type TiffColor =
  /** Red, green, blue as coded; `icc` says of which space. */
  | { readonly kind: 'rgb' }
  /** One sample a pixel: the highest value is white, or with `white: 0` no ink. */
  | { readonly kind: 'grey'; readonly white: 'high' | 'zero' }
  /** Inks, the highest value is solid. Names in the order of the samples; C, M, Y, K first where those are among them. */
  | { readonly kind: 'inks'; readonly names: readonly string[] }

/** A picture as a TIFF file has it, but for its samples. */
export interface TiffHead {
  readonly width: number
  readonly height: number
  readonly depth: 8 | 16
  readonly color: TiffColor
  /** Samples after those of the colour: alpha that colours are not multiplied by. */
  readonly alpha?: true
  /** What the samples of the colour mean; null = not said. */
  readonly icc: Uint8Array | null
  /** Pixels of the file on a millimetre of the thing, > 0, across and down. */
  readonly pixelsPerMm: number | readonly [across: number, down: number]
  readonly packed: 'deflate' | 'none'
  /** What the picture shows. Signs outside ASCII are written as UTF-8. */
  readonly description?: string
  /** Name and version of the program. */
  readonly software?: string
  /** UTC, as `2026:03:31 12:00:00`. */
  readonly madeAt?: string
}

/** Samples of the rows `top` to `bottom` (not included), chunky: words for 16 bits. */
export type TiffRows = (top: number, bottom: number) => Uint8Array | Uint16Array

/** Bytes of a strip before it is packed, about. */
const stripBytes = 256 * 1024
const mostBytes = 2 ** 32 - 1

/**
 * A TIFF file, strip by strip, so that no more than a strip is held unpacked. The same input gives the same bytes.
 * Rows that are packed hold differences of neighbours (predictor 2).
 * Throws RangeError for a file of 4 GB or more.
 * Source: TIFF 6.0 (1992), sections 2, 8, 14, 16 and 18; Adobe Photoshop TIFF technical notes (2002) for deflate, 8;
 * ICC.1:2022, annex B.4 for the profile.
 * @param progress part 0..1 of the rows that are done
 */
export function writeTiff(
  head: TiffHead,
  rows: TiffRows,
  progress?: (done: number) => void,
): Uint8Array<ArrayBuffer> {
  const { width, height, depth, packed } = head
  const samples = samplesOf(head)
  const rowBytes = (width * samples * depth) / 8
  const rowsAtOnce = Math.max(1, Math.min(height, Math.floor(stripBytes / rowBytes)))
  const strips: Uint8Array[] = []
  for (let top = 0; top < height; top += rowsAtOnce) {
    const bottom = Math.min(height, top + rowsAtOnce)
    const given = rows(top, bottom)
    requireRows(given, (bottom - top) * width * samples, depth)
    strips.push(
      packed === 'none' ? littleEndian(given) : deflate(littleEndian(differences(given, width, samples))),
    )
    progress?.(bottom / height)
  }
  return assemble(head, samples, rowsAtOnce, strips)
}

/** Samples a pixel. */
function samplesOf({ color, alpha }: TiffHead): number {
  const more = alpha ? 1 : 0
  switch (color.kind) {
    case 'rgb':
      return 3 + more
    case 'grey':
      return 1 + more
    case 'inks':
      return color.names.length + more
  }
}

function requireRows(given: Uint8Array | Uint16Array, count: number, depth: 8 | 16): void {
  const bits = 8 * given.BYTES_PER_ELEMENT
  if (given.length === count && bits === depth) return
  throw new RangeError(
    `TIFF rows: expected ${count} samples of ${depth} bits, got ${given.length} of ${bits}`,
  )
}

/** Each sample less the one before it of the same kind, row by row, in the number's own width. */
export function differences<T extends Uint8Array | Uint16Array>(given: T, width: number, samples: number): T {
  const out = given.slice() as T
  const row = width * samples
  for (let from = 0; from < out.length; from += row)
    for (let i = from + row - 1; i >= from + samples; i--) out[i] = out[i]! - given[i - samples]!
  return out
}

function littleEndian(samples: Uint8Array | Uint16Array): Uint8Array {
  if (samples instanceof Uint8Array) return samples
  const out = new Uint8Array(2 * samples.length)
  for (let i = 0; i < samples.length; i++) {
    out[2 * i] = samples[i]! & 255
    out[2 * i + 1] = samples[i]! >> 8
  }
  return out
}

function assemble(
  head: TiffHead,
  samples: number,
  rowsAtOnce: number,
  strips: readonly Uint8Array[],
): Uint8Array<ArrayBuffer> {
  const offsets: number[] = []
  let at = 8
  for (const strip of strips) {
    offsets.push(at)
    // Every place in the file is even: section 2.
    at += strip.length + (strip.length % 2)
  }
  const fields = packFields(
    [
      ...fieldsOf(head, samples),
      longs(273, offsets),
      longs(278, [rowsAtOnce]),
      longs(
        279,
        strips.map(strip => strip.length),
      ),
    ],
    at,
  )
  const size = at + fields.length
  if (size > mostBytes) throw new RangeError(`TIFF: expected less than 4 GB, got ${size} bytes`)
  const out = new Uint8Array(size)
  const view = new DataView(out.buffer)
  out.set([0x49, 0x49, 42, 0])
  view.setUint32(4, at, true)
  for (const [i, strip] of strips.entries()) out.set(strip, offsets[i]!)
  out.set(fields, at)
  return out
}

const cmyk = ['Cyan', 'Magenta', 'Yellow', 'Black'] as const

/** All but where the strips lie. */
function fieldsOf(head: TiffHead, samples: number): readonly Field[] {
  const { width, height, depth, color, alpha, icc, pixelsPerMm, packed } = head
  const [across, down] = typeof pixelsPerMm === 'number' ? [pixelsPerMm, pixelsPerMm] : pixelsPerMm
  const all = (value: number): readonly number[] => Array.from({ length: samples }, () => value)
  const inks = color.kind === 'inks' ? inkFields(color.names) : { photometric: 0, fields: [], beyond: 0 }
  const beyond = [...Array.from({ length: inks.beyond }, () => 0), ...(alpha ? [2] : [])]
  return [
    longs(254, [0]),
    longs(256, [width]),
    longs(257, [height]),
    shorts(258, all(depth)),
    shorts(259, [packed === 'deflate' ? 8 : 1]),
    shorts(262, [photometricOf(color, inks.photometric)]),
    ...(head.description === undefined ? [] : [ascii(270, head.description)]),
    shorts(277, [samples]),
    rational(282, 10 * across),
    rational(283, 10 * down),
    shorts(284, [1]),
    // Pixels on a centimetre.
    shorts(296, [3]),
    ...(head.software === undefined ? [] : [ascii(305, head.software)]),
    ...(head.madeAt === undefined ? [] : [ascii(306, head.madeAt)]),
    ...(packed === 'deflate' ? [shorts(317, [2])] : []),
    ...inks.fields,
    ...(beyond.length === 0 ? [] : [shorts(338, beyond)]),
    shorts(339, all(1)),
    ...(icc === null ? [] : [undefinedBytes(34675, icc)]),
  ]
}

function photometricOf(color: TiffColor, ofInks: number): number {
  switch (color.kind) {
    case 'rgb':
      return 2
    case 'grey':
      return color.white === 'high' ? 1 : 0
    case 'inks':
      return ofInks
  }
}

/**
 * Inks of a separated picture: C M Y K are one ink set, those after them are further samples; any others are an ink set
 * of their own. Source: TIFF 6.0, section 16.
 */
function inkFields(names: readonly string[]): {
  readonly photometric: number
  readonly fields: readonly Field[]
  readonly beyond: number
} {
  const process = cmyk.every((name, i) => names[i] === name)
  return {
    photometric: 5,
    fields: [shorts(332, [process ? 1 : 2]), ascii(333, names.join('\0')), shorts(334, [names.length])],
    beyond: process ? names.length - 4 : 0,
  }
}
