import type { ByteSource } from '../../base/source.ts'
import { damaged, saveAgain } from '../place.ts'
import type { Directory } from './directory.ts'
import { tag } from './tags.ts'

/** How the samples of a block are packed; the numbers are the file's. Source: TIFF 6.0, sections 3, 9 to 11, 13; technical note 2. */
const compressions: ReadonlyMap<number, Packing> = new Map([
  [1, 'raw'],
  [2, 'fax'],
  [3, 'fax'],
  [4, 'fax'],
  [5, 'lzw'],
  [7, 'jpeg'],
  [8, 'zip'],
  [32_773, 'runs'],
  [32_946, 'zip'],
])
export type Packing = 'raw' | 'fax' | 'lzw' | 'jpeg' | 'zip' | 'runs'

const otherCompressions: ReadonlyMap<number, string> = new Map([
  [6, 'JPEG as old files have it'],
  [34_712, 'JPEG 2000'],
  [34_887, 'LERC'],
  [50_000, 'Zstandard'],
  [50_001, 'WebP'],
])

/** The most that packed bytes can become, for each of them; of fax and JPEG a few bits say a whole row. */
const growth: Readonly<Record<Packing, number>> = {
  raw: 1,
  fax: 1e6,
  lzw: 4096,
  jpeg: 1e6,
  zip: 1032,
  runs: 64,
}

/** How a page is cut into strips or tiles: all alike but for strips at the bottom. */
export interface Blocks {
  readonly kind: 'strip' | 'tile'
  readonly width: number
  readonly height: number
  readonly across: number
  readonly down: number
  /** Of each block; where every sample has its own, all of the first sample come first. */
  readonly offsets: Float64Array
  readonly counts: Float64Array
}

export interface TiffPage {
  readonly width: number
  readonly height: number
  /** Bits a sample: 1, 2, 4, 8 or 16. */
  readonly bits: number
  readonly samples: number
  readonly photometric: number
  /** Each sample lies in blocks of its own. */
  readonly planar: boolean
  readonly packing: Packing
  /** Samples are stored as differences from their left neighbours. */
  readonly predicted: boolean
  /** Bits of a byte lie the other way round. */
  readonly bitsTurned: boolean
  readonly orientation: 1 | 2 | 3 | 4
  readonly littleEndian: boolean
  readonly blocks: Blocks
  readonly jpegTables: Uint8Array | null
  /** How fax is coded, as ISO 32000-2, table 11 names it; null for other packings. */
  readonly fax: { readonly k: number; readonly byteAlign: boolean } | null
}

const mostSide = 300_000
export const mostSamples = 64
/** Raw strips are read in pieces of about this many bytes, however tall they are. */
const rawPiece = 4 * 2 ** 20

/** Bytes of one row of a block. */
export const blockRow = ({ bits, samples, planar, blocks }: TiffPage): number =>
  Math.ceil((blocks.width * bits * (planar ? 1 : samples)) / 8)

/** Rows of the block in row `y` of blocks. */
export const blockRows = ({ height, blocks }: Pick<TiffPage, 'height' | 'blocks'>, y: number): number =>
  blocks.kind === 'tile' ? blocks.height : Math.min(blocks.height, height - y * blocks.height)

/** Reads how a page is laid out; a layout that cannot be, or lies outside the file, is refused with its place. */
export async function readPage(dir: Directory, source: ByteSource): Promise<TiffPage> {
  const { place } = dir
  const refuse = (field: number, problem: string, code = 'damaged', fix = saveAgain): never => {
    throw damaged(place, dir.at(field), problem, code, fix)
  }
  const width = await dir.number(tag.width, 0)
  const height = await dir.number(tag.height, 0)
  for (const [field, what, pixels] of [
    [tag.width, 'width', width],
    [tag.height, 'height', height],
  ] as const)
    if (!(pixels >= 1 && pixels <= mostSide && Number.isInteger(pixels)))
      refuse(field, `expected a ${what} of 1 to ${mostSide} pixels, got ${pixels}`, 'size')
  const samples = await dir.number(tag.samples, 1)
  if (!(samples >= 1 && samples <= mostSamples))
    refuse(
      tag.samples,
      `expected 1 to ${mostSamples} samples a pixel, got ${samples}`,
      'channel-count',
      'Save the inks that the job prints, and no others.',
    )
  if (dir.count(tag.bits) > 1000) refuse(tag.bits, 'it gives bits for more samples than there are')
  const depths = [...((await dir.numbers(tag.bits)) ?? [1])]
  const bits = depths[0] ?? 1
  if (depths.some(one => one !== bits) || ![1, 2, 4, 8, 16].includes(bits))
    refuse(
      tag.bits,
      `expected 1, 8 or 16 bits in every sample, got ${depths.slice(0, 8).join(', ')}`,
      'depth',
      'Save the art with 8 or 16 bits a channel.',
    )
  const formats = dir.count(tag.sampleFormat) > 1000 ? null : await dir.numbers(tag.sampleFormat)
  if (formats?.some(one => one !== 1 && one !== 4))
    refuse(tag.sampleFormat, 'its samples are no whole numbers from 0', 'depth', 'Save it with 8 or 16 bits.')
  const photometric = await dir.number(tag.photometric, -1)
  const code = await dir.number(tag.compression, 1)
  const packing = compressions.get(code)
  if (packing === undefined)
    return refuse(
      tag.compression,
      `it is packed with ${otherCompressions.get(code) ?? `compression ${code}`}, which is not read`,
      'compression',
      'Save it with LZW, ZIP or without compression.',
    )
  const predictor = await dir.number(tag.predictor, 1)
  const predicted = predictor === 2 && (packing === 'lzw' || packing === 'zip')
  if (predictor > 2 || (predicted && bits < 8))
    refuse(tag.predictor, `its samples are foretold in a way (${predictor}) that is not read`, 'compression')
  if (packing === 'jpeg' && bits !== 8)
    refuse(tag.bits, `JPEG with ${bits} bits a sample is not read`, 'depth')
  if (packing === 'fax' && (bits !== 1 || samples !== 1))
    refuse(tag.bits, 'fax coding goes with one sample of one bit', 'depth')
  const orientation = await dir.number(tag.orientation, 1)
  if (orientation !== 1 && orientation !== 2 && orientation !== 3 && orientation !== 4)
    return refuse(
      tag.orientation,
      orientation > 4 && orientation <= 8
        ? 'its picture lies on its side and is only turned when it is shown'
        : `orientation ${orientation} means nothing`,
      'orientation',
      'Turn the picture itself upright and save it.',
    )
  const layout = {
    width,
    height,
    bits,
    samples,
    photometric,
    planar: samples > 1 && (await dir.number(tag.planar, 1)) === 2,
    packing,
    predicted,
    bitsTurned: (await dir.number(tag.fillOrder, 1)) === 2 && packing !== 'jpeg',
    orientation,
    littleEndian: dir.littleEndian,
    fax: packing === 'fax' ? faxOf(code, await dir.number(tag.faxOptions, 0)) : null,
    jpegTables: packing === 'jpeg' ? await dir.bytes(tag.jpegTables, 65_536) : null,
  } as const
  return inPieces({ ...layout, blocks: await readBlocks(dir, source, layout) })
}

/** Of compression 2 (rows end on a byte), 3 (its options: two dimensions, whole bytes) and 4. Source: TIFF 6.0, section 11. */
function faxOf(code: number, options: number): TiffPage['fax'] {
  if (code === 4) return { k: -1, byteAlign: false }
  return code === 2 ? { k: 0, byteAlign: true } : { k: options & 1, byteAlign: false }
}

type Layout = Omit<TiffPage, 'blocks'>

async function readBlocks(dir: Directory, source: ByteSource, page: Layout): Promise<Blocks> {
  const { place } = dir
  const tiled = dir.has(tag.tileWidth)
  const kind = tiled ? 'tile' : 'strip'
  const width = tiled ? await dir.number(tag.tileWidth, 0) : page.width
  const rows = tiled ? await dir.number(tag.tileHeight, 0) : await dir.number(tag.rowsPerStrip, page.height)
  const height = tiled ? rows : Math.min(rows, page.height)
  if (!(width >= 1 && width <= 65_536 * 8 && height >= 1 && Number.isInteger(width * height)))
    throw damaged(
      place,
      dir.at(tiled ? tag.tileWidth : tag.rowsPerStrip),
      `a ${kind} of ${width} × ${height} pixels cannot be`,
    )
  const across = Math.ceil(page.width / width)
  const down = Math.ceil(page.height / height)
  const expected = across * down * (page.planar ? page.samples : 1)
  const [offsetTag, countTag] = tiled
    ? [tag.tileOffsets, tag.tileCounts]
    : [tag.stripOffsets, tag.stripCounts]
  const listed = dir.count(offsetTag)
  if (listed < expected)
    throw damaged(
      place,
      dir.at(offsetTag),
      `its pixels take ${expected} ${kind}s, but it lists ${listed}`,
      'tiff-blocks',
    )
  const offsets = (await dir.numbers(offsetTag))!.subarray(0, expected)
  const shape: Blocks = { kind, width, height, across, down, offsets, counts: new Float64Array(0) }
  const rowBytes = blockRow({ ...page, blocks: shape })
  const sizeOf = (i: number) =>
    rowBytes * blockRows({ ...page, blocks: shape }, Math.floor(i / across) % down)
  // Very old files leave lengths out; without compression they follow from the size.
  const stated = dir.has(countTag) ? await dir.numbers(countTag) : null
  if (stated === null && page.packing !== 'raw')
    throw damaged(place, dir.at(offsetTag), `it does not say how long its ${kind}s are`, 'tiff-blocks')
  if (stated !== null && stated.length < expected)
    throw damaged(
      place,
      dir.at(countTag),
      `it has ${expected} ${kind}s, but gives the lengths of ${stated.length}`,
      'tiff-blocks',
    )
  const counts = stated?.subarray(0, expected) ?? Float64Array.from({ length: expected }, (_, i) => sizeOf(i))
  for (let i = 0; i < expected; i++) {
    const [offset, count, need] = [offsets[i]!, counts[i]!, sizeOf(i)]
    const where = { ...place, part: `${place.part}, ${kind} ${i + 1}` }
    if (offset + count > source.size)
      throw damaged(
        where,
        offset,
        `it ends at byte ${offset + count}, the file at byte ${source.size}`,
        'cut-short',
      )
    if (count * growth[page.packing] < need)
      throw damaged(where, offset, `${need} bytes of samples cannot come from ${count}`, 'tiff-blocks')
  }
  return { ...shape, counts }
}

/** Tall strips without compression as many low ones: rows are then read without the rest. */
function inPieces(page: TiffPage): TiffPage {
  const { blocks } = page
  const row = blockRow(page)
  const rows = pieceRows(blocks, Math.max(1, Math.floor(rawPiece / row)))
  if (page.packing !== 'raw' || blocks.kind === 'tile' || rows === blocks.height) return page
  const down = Math.ceil(page.height / rows)
  const planes = page.planar ? page.samples : 1
  const offsets = new Float64Array(planes * down)
  const counts = new Float64Array(planes * down)
  for (let plane = 0; plane < planes; plane++)
    for (let y = 0; y < down; y++) {
      const strip = plane * blocks.down + Math.floor((y * rows) / blocks.height)
      offsets[plane * down + y] = blocks.offsets[strip]! + ((y * rows) % blocks.height) * row
      counts[plane * down + y] = Math.min(rows, page.height - y * rows) * row
    }
  return { ...page, blocks: { ...blocks, height: rows, down, offsets, counts } }
}

/** Rows of a piece, at most `most`: pieces of several strips must not reach over a strip's end. */
function pieceRows({ height, down }: Blocks, most: number): number {
  if (down === 1 || height <= most) return Math.min(height, most)
  for (let parts = Math.ceil(height / most); ; parts++) if (height % parts === 0) return height / parts
}
