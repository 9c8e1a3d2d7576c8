import { deflateSync } from 'node:zlib'

/** One page of a TIFF that a test writes. */
export interface TiffWish {
  readonly width: number
  readonly height: number
  readonly samples: number
  /** 1, 8 or 16. */
  readonly bits: number
  readonly photometric: number
  /** The number of a sample: 0 .. 2^bits − 1. */
  readonly value: (x: number, y: number, sample: number) => number
  readonly planar?: boolean
  /** 1 none, 8 ZIP, 32773 runs. */
  readonly compression?: 1 | 8 | 32773
  readonly predictor?: boolean
  /** Tiles of this side; else strips. */
  readonly tile?: number
  readonly rowsPerStrip?: number
  /** Further fields: [tag, type, values]; type 2 takes text, 5 pairs. They replace fields of the same tag. */
  readonly fields?: readonly (readonly [
    tag: number,
    type: number,
    values: string | readonly number[] | Uint8Array,
  ])[]
  /** Fields that are left out. */
  readonly without?: readonly number[]
}

export interface TiffForm {
  readonly bigEndian?: boolean
  readonly big?: boolean
}

const sizeOfType = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4, 0, 0, 8]

/** Writes a TIFF: samples first, then a directory a page. */
export function tiffBytes(
  pages: readonly TiffWish[],
  { bigEndian = false, big = false }: TiffForm = {},
): Uint8Array {
  const le = !bigEndian
  const parts: Uint8Array[] = []
  let length = 0
  const put = (bytes: Uint8Array) => {
    const at = length
    const padded = bytes.length % 2 === 0 ? bytes : Uint8Array.from([...bytes, 0])
    parts.push(padded)
    length += padded.length
    return at
  }
  const head = new Uint8Array(big ? 16 : 8)
  const headView = new DataView(head.buffer)
  head.set(new TextEncoder().encode(le ? 'II' : 'MM'))
  headView.setUint16(2, big ? 43 : 42, le)
  if (big) headView.setUint16(4, 8, le)
  put(head)
  let link = { view: headView, at: big ? 8 : 4 }
  const word = (view: DataView, at: number, value: number) =>
    big ? view.setBigUint64(at, BigInt(value), le) : view.setUint32(at, value, le)
  for (const page of pages) {
    const { offsets, counts } = putBlocks(page, le, put)
    const tiled = page.tile !== undefined
    const fields = new Map<number, readonly [number, string | readonly number[] | Uint8Array]>([
      [256, [4, [page.width]]],
      [257, [4, [page.height]]],
      [258, [3, Array.from({ length: page.samples }, () => page.bits)]],
      [259, [3, [page.compression ?? 1]]],
      [262, [3, [page.photometric]]],
      [277, [3, [page.samples]]],
      [282, [5, [300, 1]]],
      [283, [5, [300, 1]]],
      [284, [3, [page.planar ? 2 : 1]]],
      [296, [3, [2]]],
      ...(page.predictor ? [[317, [3, [2]]] as const] : []),
      ...(tiled
        ? ([
            [322, [4, [page.tile!]]],
            [323, [4, [page.tile!]]],
            [324, [4, offsets]],
            [325, [4, counts]],
          ] as const)
        : ([
            [273, [4, offsets]],
            [278, [4, [page.rowsPerStrip ?? page.height]]],
            [279, [4, counts]],
          ] as const)),
      ...(page.fields ?? []).map(([tag, type, values]) => [tag, [type, values]] as const),
    ])
    for (const tag of page.without ?? []) fields.delete(tag)
    const entry = big ? 20 : 12
    const [countBytes, wordBytes] = big ? [8, 8] : [2, 4]
    const sorted = [...fields].sort(([a], [b]) => a - b)
    const dir = new Uint8Array(countBytes + sorted.length * entry + wordBytes)
    const view = new DataView(dir.buffer)
    if (big) view.setBigUint64(0, BigInt(sorted.length), le)
    else view.setUint16(0, sorted.length, le)
    for (const [i, [tag, [type, values]]] of sorted.entries()) {
      const bytes = valueBytes(type, values, le)
      const at = countBytes + i * entry
      view.setUint16(at, tag, le)
      view.setUint16(at + 2, type, le)
      word(view, at + 4, bytes.length / sizeOfType[type]!)
      if (bytes.length <= wordBytes) dir.set(bytes, at + 4 + wordBytes)
      else word(view, at + 4 + wordBytes, put(bytes))
    }
    word(link.view, link.at, put(dir))
    link = { view, at: countBytes + sorted.length * entry }
  }
  const out = new Uint8Array(length)
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}

function valueBytes(type: number, values: string | readonly number[] | Uint8Array, le: boolean): Uint8Array {
  if (values instanceof Uint8Array) return values
  if (typeof values === 'string') return new TextEncoder().encode(values)
  const size = type === 5 ? 4 : sizeOfType[type]!
  const out = new Uint8Array(values.length * size)
  const view = new DataView(out.buffer)
  for (const [i, value] of values.entries())
    if (size === 1) view.setUint8(i, value)
    else if (size === 2) view.setUint16(i * 2, value, le)
    else if (size === 4) view.setUint32(i * 4, value, le)
    else view.setBigUint64(i * 8, BigInt(value), le)
  return out
}

function putBlocks(page: TiffWish, le: boolean, put: (bytes: Uint8Array) => number) {
  const offsets: number[] = []
  const counts: number[] = []
  const { width, height, samples, planar = false, tile } = page
  const blockWidth = tile ?? width
  const blockHeight = tile ?? page.rowsPerStrip ?? height
  for (let plane = 0; plane < (planar ? samples : 1); plane++)
    for (let top = 0; top < height; top += blockHeight)
      for (let left = 0; left < width; left += blockWidth) {
        const rows = tile === undefined ? Math.min(blockHeight, height - top) : blockHeight
        const own = planar ? [plane] : Array.from({ length: samples }, (_, i) => i)
        const bytes = pack(page, blockBytes(page, left, top, blockWidth, rows, own, le), rows)
        offsets.push(put(bytes))
        counts.push(bytes.length)
      }
  return { offsets, counts }
}

/** Samples of a block; outside the picture 0. */
function blockBytes(
  page: TiffWish,
  left: number,
  top: number,
  width: number,
  height: number,
  samples: readonly number[],
  le: boolean,
): Uint8Array {
  const { bits } = page
  const row = Math.ceil((width * samples.length * bits) / 8)
  const out = new Uint8Array(row * height)
  const view = new DataView(out.buffer)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      for (const [k, sample] of samples.entries()) {
        const inside = left + x < page.width && top + y < page.height
        const at = (px: number) => (inside ? page.value(left + px, top + y, sample) : 0)
        const i = x * samples.length + k
        const before = page.predictor && x > 0 && inside ? at(x - 1) : 0
        const value = at(x) - before
        if (bits === 16) view.setUint16(y * row + 2 * i, value & 0xffff, le)
        else if (bits === 8) out[y * row + i] = value & 0xff
        else if (value === 1) out[y * row + (i >> 3)]! |= 128 >> (i & 7)
      }
  return out
}

function pack({ compression = 1 }: TiffWish, bytes: Uint8Array, rows: number): Uint8Array {
  if (compression === 8) return deflateSync(bytes)
  if (compression === 1) return bytes
  const row = bytes.length / rows
  const out: number[] = []
  for (let y = 0; y < rows; y++)
    for (let at = y * row; at < (y + 1) * row; ) {
      let run = 1
      while (run < 128 && at + run < (y + 1) * row && bytes[at + run] === bytes[at]) run++
      if (run > 1) out.push(257 - run, bytes[at]!)
      else out.push(0, bytes[at]!)
      at += run
    }
  return Uint8Array.from(out)
}

/** Pixels of six inks with names, none like its neighbours. */
export const sixInks: TiffWish = {
  width: 37,
  height: 29,
  samples: 6,
  bits: 8,
  photometric: 5,
  value: (x, y, sample) => (x * 7 + y * 13 + sample * 41) & 255,
  fields: [
    [332, 3, [2]],
    [333, 2, 'Cyan\0Magenta\0Yellow\0Black\0White\0Holo foil\0'],
    [334, 3, [6]],
  ],
}
