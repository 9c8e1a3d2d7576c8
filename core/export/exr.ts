import { deflate } from '../base/inflate.ts'
import { mostHalf, toHalf } from './half.ts'

/** A picture in linear light. */
export interface ExrPicture {
  readonly width: number
  readonly height: number
  /** R, G, B, and A (which the colours are multiplied by) a pixel, row by row; any size, below 0 too. */
  readonly rgba: Float32Array
  /** 16-bit or 32-bit floating point. What half cannot hold is held at ±65504. */
  readonly samples: 'half' | 'float'
  /** x, y of red, green, blue and white of these numbers. */
  readonly chromaticities: readonly (readonly [x: number, y: number])[]
  /** Luminance of R = G = B = 1, cd/m². */
  readonly whiteLuminance: number
  /** What looks white in the scene: x, y. */
  readonly adoptedNeutral: readonly [x: number, y: number]
  readonly comments: string
}

/** Rows that are packed together, by the standard. */
const blockRows = 16

/**
 * An OpenEXR file: one part, scan lines, zip. The same picture gives the same bytes.
 * Source: OpenEXR file layout and standard attributes (openexr.com, technical documentation, version 2 files).
 * @param progress part 0..1 of the rows that are done
 */
export function writeExr(picture: ExrPicture, progress?: (done: number) => void): Uint8Array<ArrayBuffer> {
  const { height } = picture
  const head = headOf(picture)
  const blocks: Uint8Array[] = []
  for (let top = 0; top < height; top += blockRows) {
    const bottom = Math.min(height, top + blockRows)
    const plain = blockOf(picture, top, bottom)
    const packed = deflate(prepared(plain))
    // What does not get smaller is stored as it is.
    blocks.push(packed.length < plain.length ? packed : plain)
    progress?.(bottom / height)
  }
  return assemble(head, blocks)
}

function assemble(head: Uint8Array, blocks: readonly Uint8Array[]): Uint8Array<ArrayBuffer> {
  const first = head.length + 8 * blocks.length
  const size = blocks.reduce((sum, block) => sum + 8 + block.length, first)
  const out = new Uint8Array(size)
  const view = new DataView(out.buffer)
  out.set(head)
  let at = first
  for (const [i, block] of blocks.entries()) {
    view.setBigUint64(head.length + 8 * i, BigInt(at), true)
    view.setInt32(at, i * blockRows, true)
    view.setInt32(at + 4, block.length, true)
    out.set(block, at + 8)
    at += 8 + block.length
  }
  return out
}

/** Channels by their names, in alphabetical order, and where each lies in a pixel. */
const channels = [
  ['A', 3],
  ['B', 2],
  ['G', 1],
  ['R', 0],
] as const

/** Rows one after another, each channel whole. */
function blockOf({ width, rgba, samples }: ExrPicture, top: number, bottom: number): Uint8Array {
  const bytes = samples === 'half' ? 2 : 4
  const out = new Uint8Array((bottom - top) * width * channels.length * bytes)
  const view = new DataView(out.buffer)
  let at = 0
  for (let y = top; y < bottom; y++)
    for (const [, place] of channels)
      for (let x = 0; x < width; x++, at += bytes) {
        const value = rgba[4 * (y * width + x) + place]!
        if (samples === 'float') view.setFloat32(at, value, true)
        else view.setUint16(at, toHalf(Math.min(mostHalf, Math.max(-mostHalf, value))), true)
      }
  return out
}

/** Bytes as they pack best: those at even places first, then each as its difference from the one before. */
function prepared(plain: Uint8Array): Uint8Array {
  const out = new Uint8Array(plain.length)
  const half = Math.ceil(plain.length / 2)
  for (let i = 0; i < plain.length; i++) out[i % 2 === 0 ? i >> 1 : half + (i >> 1)] = plain[i]!
  for (let i = out.length - 1; i > 0; i--) out[i] = out[i]! - out[i - 1]! + 128
  return out
}

function headOf(picture: ExrPicture): Uint8Array {
  const { width, height, samples, chromaticities, whiteLuminance, adoptedNeutral, comments } = picture
  const window = ints([0, 0, width - 1, height - 1])
  return joined([
    // Magic number, then version 2 without flags.
    Uint8Array.of(0x76, 0x2f, 0x31, 0x01, 2, 0, 0, 0),
    attribute('adoptedNeutral', 'v2f', floats(adoptedNeutral)),
    attribute('channels', 'chlist', channelList(samples)),
    attribute('chromaticities', 'chromaticities', floats(chromaticities.flat())),
    attribute('comments', 'string', new TextEncoder().encode(comments)),
    // Zip, 16 rows together.
    attribute('compression', 'compression', Uint8Array.of(3)),
    attribute('dataWindow', 'box2i', window),
    attribute('displayWindow', 'box2i', window),
    attribute('lineOrder', 'lineOrder', Uint8Array.of(0)),
    attribute('pixelAspectRatio', 'float', floats([1])),
    attribute('screenWindowCenter', 'v2f', floats([0, 0])),
    attribute('screenWindowWidth', 'float', floats([1])),
    attribute('whiteLuminance', 'float', floats([whiteLuminance])),
    Uint8Array.of(0),
  ])
}

function channelList(samples: ExrPicture['samples']): Uint8Array {
  const kind = samples === 'half' ? 1 : 2
  const each = channels.map(([name]) => joined([named(name), ints([kind, 0, 1, 1])]))
  return joined([...each, Uint8Array.of(0)])
}

function attribute(name: string, type: string, value: Uint8Array): Uint8Array {
  return joined([named(name), named(type), ints([value.length]), value])
}

const named = (text: string): Uint8Array => new TextEncoder().encode(`${text}\0`)

function ints(values: readonly number[]): Uint8Array {
  const out = new DataView(new ArrayBuffer(4 * values.length))
  for (const [i, value] of values.entries()) out.setInt32(4 * i, value, true)
  return new Uint8Array(out.buffer)
}

function floats(values: readonly number[]): Uint8Array {
  const out = new DataView(new ArrayBuffer(4 * values.length))
  for (const [i, value] of values.entries()) out.setFloat32(4 * i, value, true)
  return new Uint8Array(out.buffer)
}

function joined(parts: readonly Uint8Array[]): Uint8Array {
  const out = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    out.set(part, at)
    at += part.length
  }
  return out
}

/** Luminance, cd/m², of a perfect white diffuser under an illuminance: E / π. */
export const whiteLuminanceUnder = (lux: number): number => lux / Math.PI
