import { BadInput } from '../../base/finding.ts'
import type { ImageCodecs } from '../../base/image-codecs.ts'
import { inflateInto } from '../../base/inflate.ts'
import { decodeJpeg, jpegHead } from '../../base/jpeg.ts'
import type { ByteSource } from '../../base/source.ts'
import { unpackLzw } from '../lzw.ts'
import { unpackRow } from '../packbits.ts'
import { damaged, type Place } from '../place.ts'
import { readExactly } from '../read-exactly.ts'
import { blockRow, blockRows, type TiffPage } from './page.ts'

/** Packed bytes at a time: deflate may unpack each to 1032 times its size. */
const slice = 1 << 16
/** Packed bytes beyond twice the samples are not samples. */
const slack = 1 << 16

/** Blocks of a page, decoded when they are asked for; the last ones are kept, since every plane of a strip wants them. */
export class BlockReader {
  private readonly kept = new Map<number, Promise<Uint8Array>>()
  private keptBytes = 0

  /**
   * @param budget  bytes that the blocks of one row may take
   * @param fax     decodes pages that are packed so; else null
   */
  constructor(
    private readonly source: ByteSource,
    private readonly page: TiffPage,
    private readonly place: Place,
    private readonly budget: number,
    private readonly fax: ImageCodecs['fax'] | null,
  ) {}

  /** Samples of one block as the file orders their bytes, row by row; differences are summed. */
  block(index: number): Promise<Uint8Array> {
    const held = this.kept.get(index)
    if (held !== undefined) {
      this.kept.delete(index)
      this.kept.set(index, held)
      return held
    }
    const size = this.sizeOf(index)
    const { across } = this.page.blocks
    // A row of tiles stays whole while its planes are read one after the other.
    const most = Math.min(this.budget, Math.max(keepBytes, size * across))
    for (const [old] of this.kept) {
      if (this.keptBytes + size <= most) break
      this.kept.delete(old)
      this.keptBytes -= this.sizeOf(old)
    }
    const made = this.decode(index, size)
    this.kept.set(index, made)
    this.keptBytes += size
    // What failed is not kept: the file may be there again.
    made.catch(() => {
      if (this.kept.get(index) !== made) return
      this.kept.delete(index)
      this.keptBytes -= size
    })
    return made
  }

  private sizeOf(index: number): number {
    const { blocks } = this.page
    return blockRow(this.page) * blockRows(this.page, Math.floor(index / blocks.across) % blocks.down)
  }

  private async decode(index: number, size: number): Promise<Uint8Array> {
    const { page } = this
    const place: Place = {
      file: this.place.file,
      part: `${this.place.part}, ${page.blocks.kind} ${index + 1}`,
    }
    const at = page.blocks.offsets[index]!
    if (size > this.budget)
      throw damaged(
        place,
        at,
        `one ${page.blocks.kind} needs ${Math.ceil(size / 2 ** 20)} MiB, above the memory budget`,
        'too-large',
        'Raise the memory budget, or save the art in tiles or smaller strips.',
      )
    const count = Math.min(page.blocks.counts[index]!, 2 * size + slack)
    const rows = size / blockRow(page)
    try {
      const bytes = await this.unpack(at, count, size, rows, place)
      if (page.bitsTurned && page.packing !== 'fax')
        for (let i = 0; i < bytes.length; i++) bytes[i] = turned[bytes[i]!]!
      return page.predicted ? summed(bytes, page, rows) : bytes
    } catch (reason) {
      if (reason instanceof BadInput || reason instanceof RangeError) throw reason
      throw damaged(
        place,
        at,
        `its samples cannot be unpacked: ${reason instanceof Error ? reason.message : reason}`,
      )
    }
  }

  private async unpack(
    at: number,
    count: number,
    size: number,
    rows: number,
    place: Place,
  ): Promise<Uint8Array> {
    const { packing } = this.page
    const early = (written: number) => {
      if (written < size) throw new Error(`they end early, at byte ${written} of ${size}`)
    }
    if (packing === 'zip') {
      const out = new Uint8Array(size)
      let read = 0
      const pull = async () => {
        if (read >= count) return null
        const length = Math.min(slice, count - read)
        read += length
        return readExactly(this.source, at + read - length, length, place)
      }
      early(await inflateInto(pull, out))
      return out
    }
    const packed = await readExactly(this.source, at, packing === 'raw' ? size : count, place)
    switch (packing) {
      case 'raw':
        // Bits are turned in place, which the source's own bytes must not be.
        return this.page.bitsTurned ? packed.slice() : packed
      case 'lzw': {
        const { bytes } = unpackLzw(packed, 1, size)
        early(bytes.length)
        return bytes
      }
      case 'runs': {
        const out = new Uint8Array(size)
        if (!unpackRow(packed, 0, packed.length, out, 0, size)) throw new Error('its runs do not fill it')
        return out
      }
      case 'fax': {
        const { fax, blocks, bitsTurned } = this.page
        const plain = bitsTurned ? packed.map(byte => turned[byte]!) : packed
        const coding = { ...fax!, columns: blocks.width, rows, endOfLine: false, blackIs1: true }
        const out = await this.fax!(plain, rows, coding)
        early(out.length)
        return out
      }
      case 'jpeg':
        return this.jpeg(packed, rows)
    }
  }

  private jpeg(packed: Uint8Array, rows: number): Uint8Array {
    const { jpegTables, photometric, planar, samples, blocks } = this.page
    const whole = jpegTables === null ? packed : withTables(jpegTables, packed)
    const head = jpegHead(whole)
    const components = planar ? 1 : samples
    if (
      head.components !== components ||
      head.width !== blocks.width ||
      head.height < rows ||
      head.height > blocks.height
    )
      throw new Error(
        `it is a picture of ${head.width} × ${head.height} pixels with ${head.components} colours, not ${blocks.width} × ${rows} with ${components}`,
      )
    return new Uint8Array(decodeJpeg(whole, photometric === 6 ? 'ycc' : 'none').data.buffer)
  }
}

const keepBytes = 64 * 2 ** 20

/** Tables without their end, then the picture without its beginning. Source: TIFF technical note 2. */
function withTables(tables: Uint8Array, picture: Uint8Array): Uint8Array {
  const ends = tables.length >= 2 && tables.at(-2) === 0xff && tables.at(-1) === 0xd9 ? 2 : 0
  const out = new Uint8Array(tables.length - ends + picture.length - 2)
  out.set(tables.subarray(0, tables.length - ends))
  out.set(picture.subarray(2), tables.length - ends)
  return out
}

const turned = Uint8Array.from({ length: 256 }, (_, byte) => {
  let out = 0
  for (let bit = 0; bit < 8; bit++) if (byte & (1 << bit)) out |= 128 >> bit
  return out
})

/** Undoes differences along each row, sample by sample. Source: TIFF 6.0, section 14. */
function summed(bytes: Uint8Array, page: TiffPage, rows: number): Uint8Array {
  const step = page.planar ? 1 : page.samples
  const row = blockRow(page)
  if (page.bits === 8) {
    for (let at = 0; at < rows * row; at += row)
      for (let i = at + step; i < at + row; i++) bytes[i] = bytes[i]! + bytes[i - step]!
    return bytes
  }
  const [low, high] = page.littleEndian ? [0, 1] : [1, 0]
  for (let at = 0; at < rows * row; at += row)
    for (let i = at + 2 * step; i < at + row; i += 2) {
      const sum = bytes[i + low]! + bytes[i - 2 * step + low]!
      bytes[i + low] = sum
      bytes[i + high] = bytes[i + high]! + bytes[i - 2 * step + high]! + (sum >> 8)
    }
  return bytes
}
