import type { Box, Plane, Rows } from '../layer.ts'
import type { Place } from '../place.ts'
import { checkBudget } from '../plane-budget.ts'
import type { BlockReader } from './blocks.ts'
import type { PlaneSource, TiffColours } from './colours.ts'
import { blockRow, type TiffPage } from './page.ts'

/** Reads rows of one document plane out of the blocks that they lie in. */
export async function readRows(
  page: TiffPage,
  { planes, alpha, depth }: TiffColours,
  reader: BlockReader,
  index: number,
  rows: Rows,
  budget: number,
  place: Place,
): Promise<Plane> {
  const { width, height, orientation } = page
  const box: Box = { left: 0, right: width, ...rows }
  checkBudget(box, depth === 16 ? 16 : 8, budget, place, 0)
  const source = planes[index]!
  const size = width * (rows.bottom - rows.top)
  const data = depth === 16 ? new Uint16Array(size) : new Uint8Array(size)
  const full = depth === 16 ? 65_535 : 255
  if (source.sample === null) return { box, data: data.fill(full) }
  const down = orientation === 3 || orientation === 4
  const stored = down ? { top: height - rows.bottom, bottom: height - rows.top } : rows
  if (source.multiplied && alpha !== null) {
    const [raw, opacity] = [new Uint16Array(size), new Uint16Array(size)]
    await gather(page, reader, source.sample, null, stored, raw)
    await gather(page, reader, alpha, null, stored, opacity)
    divide(raw, opacity, 2 ** page.bits - 1, source, data)
  } else await gather(page, reader, source.sample, source.curve, stored, data)
  if (down) turnRows(data, width)
  if (orientation === 2 || orientation === 3)
    for (let at = 0; at < size; at += width) data.subarray(at, at + width).reverse()
  return { box, data }
}

/** Samples of all blocks that meet the rows, through the curve. */
async function gather(
  page: TiffPage,
  reader: BlockReader,
  sample: number,
  curve: PlaneSource['curve'],
  rows: Rows,
  out: Uint8Array | Uint16Array,
): Promise<void> {
  const { blocks, width, planar } = page
  const first = planar ? sample * blocks.across * blocks.down : 0
  for (let y = Math.floor(rows.top / blocks.height); y * blocks.height < rows.bottom; y++) {
    const top = Math.max(rows.top, y * blocks.height)
    const bottom = Math.min(rows.bottom, (y + 1) * blocks.height)
    for (let x = 0; x < blocks.across; x++) {
      const bytes = await reader.block(first + y * blocks.across + x)
      const left = x * blocks.width
      const count = Math.min(blocks.width, width - left)
      for (let row = top; row < bottom; row++)
        copyRow(
          page,
          bytes,
          (row - y * blocks.height) * blockRow(page),
          planar ? 0 : sample,
          count,
          curve,
          out,
          (row - rows.top) * width + left,
        )
    }
  }
}

function copyRow(
  { bits, samples, planar, littleEndian }: TiffPage,
  bytes: Uint8Array,
  from: number,
  sample: number,
  count: number,
  curve: PlaneSource['curve'],
  out: Uint8Array | Uint16Array,
  to: number,
): void {
  const step = planar ? 1 : samples
  if (bits === 8) {
    let at = from + sample
    if (curve === null && step === 1) out.set(bytes.subarray(at, at + count), to)
    else if (curve === null) for (let i = 0; i < count; i++, at += step) out[to + i] = bytes[at]!
    else for (let i = 0; i < count; i++, at += step) out[to + i] = curve[bytes[at]!]!
    return
  }
  if (bits === 16) {
    const [low, high] = littleEndian ? [0, 1] : [1, 0]
    let at = from + 2 * sample
    for (let i = 0; i < count; i++, at += 2 * step) {
      const value = bytes[at + low]! | (bytes[at + high]! << 8)
      out[to + i] = curve === null ? value : curve[value]!
    }
    return
  }
  const mask = (1 << bits) - 1
  for (let i = 0; i < count; i++) {
    const bit = (i * step + sample) * bits
    const value = (bytes[from + (bit >> 3)]! >> (8 - bits - (bit & 7))) & mask
    out[to + i] = curve === null ? value : curve[value]!
  }
}

/** Undoes the multiplication by opacity; where nothing is seen the sample stays 0. Source: TIFF 6.0, section 18. */
function divide(
  raw: Uint16Array,
  opacity: Uint16Array,
  most: number,
  { curve }: PlaneSource,
  out: Uint8Array | Uint16Array,
): void {
  for (let i = 0; i < raw.length; i++) {
    const a = opacity[i]!
    const value = a === 0 ? 0 : Math.min(most, Math.round((raw[i]! * most) / a))
    out[i] = curve === null ? value : curve[value]!
  }
}

function turnRows(data: Uint8Array | Uint16Array, width: number): void {
  for (let a = 0, b = data.length - width; a < b; a += width, b -= width) {
    const upper = data.slice(a, a + width)
    data.copyWithin(a, b, b + width)
    data.set(upper, b)
  }
}
