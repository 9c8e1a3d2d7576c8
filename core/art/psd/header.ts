import { BadInput } from '../../base/finding.ts'
import type { ByteSource } from '../../base/source.ts'
import type { ColorMode } from '../layer.ts'
import { damaged, type Place, saveAgain } from '../place.ts'
import { readExactly } from '../read-exactly.ts'
import { Cursor } from './cursor.ts'

export interface Header {
  /** Lengths and offsets have 64 bits (PSB). */
  readonly large: boolean
  /** Planes of the flattened picture. */
  readonly planes: number
  readonly width: number
  readonly height: number
  /** Bits a sample. */
  readonly depth: 1 | 8 | 16 | 32
  readonly mode: ColorMode
  /** The six bytes that must be zero are. */
  readonly reservedZero: boolean
}

export const headerBytes = 26
/** The published limit is 56; files with a few more exist and can be read. */
const mostPlanes = 100

const modes: ReadonlyMap<number, ColorMode> = new Map([
  [0, 'Bitmap'],
  [1, 'Grayscale'],
  [2, 'Indexed'],
  [3, 'RGB'],
  [4, 'CMYK'],
  [7, 'Multichannel'],
  [8, 'Duotone'],
  [9, 'Lab'],
])

/** Depths that occur with each mode. */
const depths: Readonly<Record<ColorMode, readonly number[]>> = {
  Bitmap: [1],
  Grayscale: [8, 16, 32],
  Indexed: [8],
  RGB: [8, 16, 32],
  CMYK: [8, 16],
  Multichannel: [8, 16],
  Duotone: [8, 16],
  Lab: [8, 16],
}

/** The fixed first 26 bytes. Throws {@link BadInput} for anything that is not a PSD or PSB of a possible size. */
export async function readHeader(source: ByteSource): Promise<Header> {
  const place: Place = { file: source.name, part: null }
  if (source.size === 0)
    throw new BadInput(
      'empty',
      source.name,
      'byte 0',
      'the file is empty',
      'Ask for a fresh copy of the art.',
    )
  const start = new Cursor(await readExactly(source, 0, Math.min(4, source.size), place), 0, place)
  if (start.peekTag() !== '8BPS')
    throw damaged(
      place,
      0,
      'begins as no kind of art that is read: PSD, PSB, PDF, SVG, TIFF, PNG or JPEG',
      'not-art',
      'Choose another file, or export the art as PDF or TIFF, or as a layered PSD or PSB.',
    )
  const c = new Cursor(await readExactly(source, 4, headerBytes - 4, place), 4, place)
  const version = c.u16()
  if (version !== 1 && version !== 2)
    throw damaged(place, 4, `expected version 1 (PSD) or 2 (PSB), got ${version}`, 'version')
  const reservedZero = c.take(6).every(b => b === 0)
  const planes = c.u16()
  if (planes < 1 || planes > mostPlanes)
    throw damaged(place, 12, `expected 1 to 56 channels, got ${planes}`, 'channel-count')
  const most = version === 2 ? 300_000 : 30_000
  const height = side(c, place, 'height', most)
  const width = side(c, place, 'width', most)
  const depth = c.u16()
  const code = c.u16()
  const mode = modes.get(code)
  if (mode === undefined)
    throw damaged(
      place,
      24,
      `expected a colour mode of 0-4 or 7-9, got ${code}`,
      'color-mode',
      'Save the art as CMYK, RGB, Lab, greyscale or multichannel.',
    )
  if ((depth !== 1 && depth !== 8 && depth !== 16 && depth !== 32) || !depths[mode].includes(depth))
    throw damaged(
      place,
      22,
      `expected ${depths[mode].join(', ')} bits a channel in ${mode}, got ${depth}`,
      'depth',
      'Save the art with 8 or 16 bits a channel.',
    )
  return { large: version === 2, planes, width, height, depth, mode, reservedZero }
}

function side(c: Cursor, place: Place, what: string, most: number): number {
  const at = c.at
  const pixels = c.u32()
  if (pixels < 1 || pixels > most)
    throw damaged(
      place,
      at,
      `expected a ${what} of 1 to ${most} pixels, got ${pixels}`,
      'size',
      most === 30_000 && pixels > most && pixels <= 300_000 ? 'Save the art as PSB.' : saveAgain,
    )
  return pixels
}
