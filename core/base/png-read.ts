import { BadInput } from './finding.ts'
import { inflateInto } from './inflate.ts'
import { decodePng, type PngPicture } from './png.ts'

/** How large a picture may be. */
export interface PngLimits {
  /** Longest side, pixels. */
  readonly side: number
  readonly pixels: number
}

/** Of a picture that is one of many parts of a job. */
const usualLimits: PngLimits = { side: 16_384, pixels: 64e6 }
const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]

/** All that a PNG says of its pixels. */
export interface WholePng extends PngPicture {
  /** Bits of a sample in the file. Fewer than 8 come as one byte a sample, 0 .. 2^bits − 1. */
  readonly bits: number
  /** R, G, B of each colour, one after the other; null where samples are colours themselves. */
  readonly palette: Uint8Array | null
  /** Opacity of each colour of the palette, 0..255, or the samples of the one colour that is clear; null where all are opaque. */
  readonly clear: readonly number[] | null
  /** Pixels an inch across and down, or null. */
  readonly density: readonly [number, number] | null
  /** The embedded profile, unpacked; null where there is none or it cannot be unpacked. */
  readonly profile: Uint8Array<ArrayBuffer> | null
}

/**
 * A picture from a PNG file of anybody's: grey or RGB, with or without alpha, 8 or 16 bits, straight or interlaced.
 * Nothing is unpacked before it is known that it fits what the head says.
 * Throws BadInput naming the file. Source of the layout: PNG third edition, 5 and 11.2.
 */
export async function readPng(bytes: Uint8Array, name: string): Promise<PngPicture> {
  const parts = pieces(bytes, name, usualLimits)
  if (parts.head.kind === 3 || parts.head.bits < 8)
    refuse(
      name,
      'byte 24',
      parts.head.kind === 3
        ? 'its colours come from a palette'
        : `${parts.head.bits} bits of kind ${parts.head.kind} are not read`,
      'Save it as grey or RGB with 8 or 16 bits',
    )
  const { width, height, channels, data } = await decoded(parts, name)
  return { width, height, channels, data }
}

/** The same for any depth and for palettes, with what the file says beside the pixels. */
export async function readWholePng(bytes: Uint8Array, name: string, limits: PngLimits): Promise<WholePng> {
  const parts = pieces(bytes, name, limits)
  const { head, others } = parts
  if (head.bits < 8 && head.interlaced)
    refuse(
      name,
      'byte 28',
      `${head.bits} bits a pixel, interlaced, are not read`,
      'Save it without interlacing',
    )
  const palette = others.get('PLTE') ?? null
  if (head.kind === 3 && palette === null)
    refuse(name, 'byte 33', 'its palette is missing', 'Save the picture again')
  const picture = await decoded(parts, name)
  const physical = others.get('pHYs')
  return {
    ...picture,
    data: head.bits < 8 ? spread(picture, head.bits) : picture.data,
    bits: head.bits,
    palette: head.kind === 3 ? palette : null,
    clear: clearOf(others.get('tRNS'), head.kind),
    density: physical === undefined ? null : densityOf(physical),
    profile: await profileOf(others.get('iCCP')),
  }
}

async function decoded({ head, data, others }: Parts, name: string): Promise<PngPicture> {
  const { width, height, channels, bits } = head
  const most = packedSize(width, height, channels * bits, head.interlaced)
  // One byte more than fits: whoever fills it has lied about the size.
  const room = new Uint8Array(most + 1)
  const next = slices(data)
  const found = await inflateInto(async () => next.next().value ?? null, room).catch(() =>
    refuse(name, 'the pixels', 'cannot be unpacked', 'Save the picture again'),
  )
  if (found !== most)
    refuse(
      name,
      'the pixels',
      found < most ? `end early, at byte ${found} of ${most}` : 'are more than the head says',
      'Save the picture again',
    )
  try {
    return decodePng(assemble(head.bytes, others.get('PLTE'), data))
  } catch (error) {
    return refuse(
      name,
      'the pixels',
      error instanceof Error ? error.message : String(error),
      'Save the picture again',
    )
  }
}

/** One byte a sample of rows that are packed closer, each row ending on a whole byte. */
function spread({ width, height, data }: PngPicture, bits: number): Uint8Array {
  const out = new Uint8Array(width * height)
  const row = Math.ceil((width * bits) / 8)
  const mask = (1 << bits) - 1
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const bit = x * bits
      out[y * width + x] = (data[y * row + (bit >> 3)]! >> (8 - bits - (bit & 7))) & mask
    }
  return out
}

function clearOf(bytes: Uint8Array | undefined, kind: number): readonly number[] | null {
  if (bytes === undefined || kind === 4 || kind === 6) return null
  if (kind === 3) return [...bytes.subarray(0, 256)]
  const samples = kind === 0 ? 1 : 3
  if (bytes.length < 2 * samples) return null
  return Array.from({ length: samples }, (_, i) => bytes[2 * i]! * 256 + bytes[2 * i + 1]!)
}

function densityOf(bytes: Uint8Array): WholePng['density'] {
  if (bytes.length < 9 || bytes[8] !== 1) return null
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  return [view.getUint32(0) * 0.0254, view.getUint32(4) * 0.0254]
}

const mostProfile = 16 * 2 ** 20

/** Behind its name, a 0 and how it is packed. */
async function profileOf(bytes: Uint8Array | undefined): Promise<Uint8Array<ArrayBuffer> | null> {
  if (bytes === undefined) return null
  const packed = bytes.subarray(bytes.indexOf(0) + 2)
  const out = new Uint8Array(Math.min(mostProfile, packed.length * 1032))
  const next = slices([packed])
  const size = await inflateInto(async () => next.next().value ?? null, out).catch(() => 0)
  return size < 128 ? null : out.slice(0, size)
}

/** Packed bytes at a time: a thousand times as many may come out before the next look at the room. */
const slice = 4096

function* slices(data: readonly Uint8Array[]): Generator<Uint8Array, undefined, undefined> {
  for (const part of data) for (let at = 0; at < part.length; at += slice) yield part.subarray(at, at + slice)
}

interface Head {
  readonly bytes: Uint8Array
  readonly width: number
  readonly height: number
  readonly bits: number
  readonly channels: number
  /** 0 grey, 2 RGB, 3 palette, 4 grey + alpha, 6 RGB + alpha. */
  readonly kind: number
  readonly interlaced: boolean
}

interface Parts {
  readonly head: Head
  /** The packed pixels. */
  readonly data: readonly Uint8Array[]
  /** What is wanted of the rest, by its name. */
  readonly others: ReadonlyMap<string, Uint8Array>
}

const wanted = ['PLTE', 'tRNS', 'pHYs', 'iCCP']

/** Head, packed pixels and what says how they are seen; everything else that a PNG may carry is passed over. */
function pieces(bytes: Uint8Array, name: string, limits: PngLimits): Parts {
  if (signature.some((byte, i) => bytes[i] !== byte))
    refuse(name, 'byte 0', 'is not a PNG picture', 'Save the picture as PNG')
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  let head: Head | null = null
  const data: Uint8Array[] = []
  const others = new Map<string, Uint8Array>()
  for (let at = 8; ; ) {
    if (at + 12 > bytes.length)
      return refuse(name, `byte ${bytes.length}`, 'the file is cut off', 'Save or copy it again')
    const size = view.getUint32(at)
    const kind = String.fromCharCode(...bytes.subarray(at + 4, at + 8))
    if (at + 12 + size > bytes.length)
      return refuse(
        name,
        `byte ${bytes.length}`,
        `the file is cut off inside ${kind}`,
        'Save or copy it again',
      )
    const body = bytes.subarray(at + 8, at + 8 + size)
    if (head === null) {
      if (kind !== 'IHDR' || size !== 13)
        return refuse(name, `byte ${at}`, 'the head is missing', 'Save the picture again')
      head = headOf(body, name, limits)
    } else if (kind === 'IDAT') data.push(body)
    else if (wanted.includes(kind) && !others.has(kind)) others.set(kind, body)
    else if (kind === 'IEND') return { head, data, others }
    at += 12 + size
  }
}

const channelsOf: Readonly<Record<number, number>> = { 0: 1, 2: 3, 3: 1, 4: 2, 6: 4 }
/** Depths that go with each kind. Source: PNG third edition, table 11.1. */
const depthsOf: Readonly<Record<number, readonly number[]>> = {
  0: [1, 2, 4, 8, 16],
  2: [8, 16],
  3: [1, 2, 4, 8],
  4: [8, 16],
  6: [8, 16],
}

function headOf(body: Uint8Array, name: string, limits: PngLimits): Head {
  const view = new DataView(body.buffer, body.byteOffset, body.byteLength)
  const [width, height] = [view.getUint32(0), view.getUint32(4)]
  const [bits, kind] = [view.getUint8(8), view.getUint8(9)]
  if (width === 0 || height === 0) refuse(name, 'byte 16', 'has no pixels', 'Save the picture again')
  if (width > limits.side || height > limits.side || width * height > limits.pixels)
    refuse(
      name,
      'byte 16',
      `${width} × ${height} pixels are too many (at most ${limits.side} a side and ${Math.floor(limits.pixels / 1e6)} million)`,
      'Make the picture smaller',
    )
  const channels = channelsOf[kind]
  if (channels === undefined || !depthsOf[kind]!.includes(bits))
    return refuse(
      name,
      'byte 24',
      `${bits} bits of kind ${kind} are no picture`,
      'Save it as grey or RGB with 8 or 16 bits',
    )
  if (view.getUint8(10) !== 0 || view.getUint8(11) !== 0 || view.getUint8(12) > 1)
    refuse(name, 'byte 26', 'is packed in an unknown way', 'Save the picture again')
  return { bytes: body, width, height, bits, channels, kind, interlaced: view.getUint8(12) === 1 }
}

/** First column and row and their steps, of the seven passes. Source: PNG third edition, 8.2. */
const passes = [
  [0, 0, 8, 8],
  [4, 0, 8, 8],
  [0, 4, 4, 8],
  [2, 0, 4, 4],
  [0, 2, 2, 4],
  [1, 0, 2, 2],
  [0, 1, 1, 2],
] as const

/** Bytes of the unpacked rows, each with the byte that names its filter. */
function packedSize(width: number, height: number, bitsAPixel: number, interlaced: boolean): number {
  const row = (pixels: number) => 1 + Math.ceil((pixels * bitsAPixel) / 8)
  if (!interlaced) return height * row(width)
  return passes.reduce((sum, [x, y, dx, dy]) => {
    const [w, h] = [Math.ceil((width - x) / dx), Math.ceil((height - y) / dy)]
    return w > 0 && h > 0 ? sum + h * row(w) : sum
  }, 0)
}

/** A PNG of just head, palette and pixels; the decoder does not look at check sums. */
function assemble(
  head: Uint8Array,
  palette: Uint8Array | undefined,
  data: readonly Uint8Array[],
): Uint8Array {
  const colours = palette === undefined ? [] : [['PLTE', palette] as const]
  const parts = [['IHDR', head] as const, ...colours, ...data.map(one => ['IDAT', one] as const)]
  const out = new Uint8Array(8 + parts.reduce((sum, [, body]) => sum + 12 + body.length, 0) + 12)
  out.set(signature)
  const view = new DataView(out.buffer)
  let at = 8
  for (const [kind, body] of [...parts, ['IEND', new Uint8Array(0)] as const]) {
    view.setUint32(at, body.length)
    for (let i = 0; i < 4; i++) out[at + 4 + i] = kind.charCodeAt(i)
    out.set(body, at + 8)
    at += 12 + body.length
  }
  return out
}

function refuse(name: string, where: string, problem: string, fix: string): never {
  throw new BadInput('picture-malformed', name, where, problem, fix)
}
