import { BadInput } from './finding.ts'
import { inflateInto } from './inflate.ts'
import { decodePng, type PngPicture } from './png.ts'

/** Longest side of a picture that is read, and its most pixels. */
const longest = 16_384
const mostPixels = 64e6
const signature = [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]

/**
 * A picture from a PNG file of anybody's: grey or RGB, with or without alpha, 8 or 16 bits, straight or interlaced.
 * Nothing is unpacked before it is known that it fits what the head says.
 * Throws BadInput naming the file. Source of the layout: PNG third edition, 5 and 11.2.
 */
export async function readPng(bytes: Uint8Array, name: string): Promise<PngPicture> {
  const { head, data } = pieces(bytes, name)
  const { bits, channels, width, height } = head
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
    return decodePng(assemble(head.bytes, data))
  } catch (error) {
    return refuse(
      name,
      'the pixels',
      error instanceof Error ? error.message : String(error),
      'Save the picture again',
    )
  }
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
  readonly interlaced: boolean
}

/** Head and packed pixels; everything else that a PNG may carry is passed over. */
function pieces(bytes: Uint8Array, name: string): { head: Head; data: readonly Uint8Array[] } {
  if (signature.some((byte, i) => bytes[i] !== byte))
    refuse(name, 'byte 0', 'is not a PNG picture', 'Save the picture as PNG')
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  let head: Head | null = null
  const data: Uint8Array[] = []
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
      head = headOf(body, name)
    } else if (kind === 'IDAT') data.push(body)
    else if (kind === 'IEND') return { head, data }
    at += 12 + size
  }
}

const channelsOf: Readonly<Record<number, number>> = { 0: 1, 2: 3, 4: 2, 6: 4 }

function headOf(body: Uint8Array, name: string): Head {
  const view = new DataView(body.buffer, body.byteOffset, body.byteLength)
  const [width, height] = [view.getUint32(0), view.getUint32(4)]
  const [bits, kind] = [view.getUint8(8), view.getUint8(9)]
  if (width === 0 || height === 0) refuse(name, 'byte 16', 'has no pixels', 'Save the picture again')
  if (width > longest || height > longest || width * height > mostPixels)
    refuse(
      name,
      'byte 16',
      `${width} × ${height} pixels are too many (at most ${longest} a side and ${mostPixels / 1e6} million)`,
      'Make the picture smaller',
    )
  const channels = channelsOf[kind]
  if (channels === undefined || (bits !== 8 && bits !== 16))
    return refuse(
      name,
      'byte 24',
      kind === 3 ? 'its colours come from a palette' : `${bits} bits of kind ${kind} are not read`,
      'Save it as grey or RGB with 8 or 16 bits',
    )
  if (view.getUint8(10) !== 0 || view.getUint8(11) !== 0 || view.getUint8(12) > 1)
    refuse(name, 'byte 26', 'is packed in an unknown way', 'Save the picture again')
  return { bytes: body, width, height, bits, channels, interlaced: view.getUint8(12) === 1 }
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

/** A PNG of just head and pixels; the decoder does not look at check sums. */
function assemble(head: Uint8Array, data: readonly Uint8Array[]): Uint8Array {
  const parts = [['IHDR', head] as const, ...data.map(one => ['IDAT', one] as const)]
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
