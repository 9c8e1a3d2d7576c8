import { deflateSync } from 'node:zlib'

/** One channel's samples, row by row, as the file is to hold them. */
export type Samples = Uint8Array | Uint16Array | Float32Array
export type Compression = 'raw' | 'rle' | 'zip' | 'zipDelta'
export const compressionCodes: Readonly<Record<Compression, number>> = { raw: 0, rle: 1, zip: 2, zipDelta: 3 }

/** Big-endian numbers and text, appended in order. */
export class Bytes {
  private readonly parts: Uint8Array[] = []
  length = 0

  raw(part: Uint8Array): this {
    this.parts.push(part)
    this.length += part.length
    return this
  }
  all(parts: readonly Uint8Array[]): this {
    for (const part of parts) this.raw(part)
    return this
  }
  zeros(n: number): this {
    return this.raw(new Uint8Array(n))
  }
  u8(value: number): this {
    return this.raw(Uint8Array.of(value))
  }
  u16(value: number): this {
    return this.raw(Uint8Array.of((value >> 8) & 255, value & 255))
  }
  u32(value: number): this {
    const part = new Uint8Array(4)
    new DataView(part.buffer).setUint32(0, value)
    return this.raw(part)
  }
  i32(value: number): this {
    return this.u32(value >>> 0)
  }
  /** 4 bytes, or 8 in the large format. */
  size(value: number, big: boolean): this {
    if (big) this.u32(Math.floor(value / 2 ** 32))
    return this.u32(value % 2 ** 32)
  }
  f64(value: number): this {
    const part = new Uint8Array(8)
    new DataView(part.buffer).setFloat64(0, value)
    return this.raw(part)
  }
  ascii(text: string): this {
    return this.raw(Uint8Array.from(text, c => (c.charCodeAt(0) < 256 ? c.charCodeAt(0) : 63)))
  }
  /** Length byte, 8-bit text, zeros up to a multiple of `multiple`. */
  pascal(text: string, multiple: number): this {
    const kept = text.slice(0, 255)
    return this.u8(kept.length)
      .ascii(kept)
      .zeros((multiple - ((kept.length + 1) % multiple)) % multiple)
  }
  /** Count of UTF-16 units as u32, then the units, no terminator. */
  unicode(text: string): this {
    this.u32(text.length)
    for (const unit of text.split('')) this.u16(unit.charCodeAt(0))
    return this
  }
  pad(multiple: number): this {
    return this.zeros((multiple - (this.length % multiple)) % multiple)
  }
  list(): readonly Uint8Array[] {
    return this.parts
  }
  join(): Uint8Array {
    const out = new Uint8Array(this.length)
    let at = 0
    for (const part of this.parts) {
      out.set(part, at)
      at += part.length
    }
    return out
  }
}

/** Samples as big-endian bytes; this machine is taken to be little-endian, as every one that Node 20 runs on here. */
export function sampleBytes(samples: Samples): Uint8Array {
  if (samples instanceof Uint8Array) return samples
  const out = new Uint8Array(samples.byteLength)
  const size = samples.BYTES_PER_ELEMENT
  const little = new Uint8Array(samples.buffer, samples.byteOffset, samples.byteLength)
  for (let i = 0; i < out.length; i++) out[i] = little[i - (i % size) + size - 1 - (i % size)]!
  return out
}

/** PackBits of one row (TIFF 6.0, section 9). */
export function packBits(row: Uint8Array): Uint8Array {
  const out = new Uint8Array(row.length + Math.ceil(row.length / 128) + 1)
  let n = 0
  let at = 0
  while (at < row.length) {
    let run = 1
    while (run < 128 && at + run < row.length && row[at + run] === row[at]) run++
    if (run > 1) {
      out[n++] = 257 - run
      out[n++] = row[at]!
      at += run
      continue
    }
    const start = at++
    // A run of two inside literals costs as much as it saves, so literals end only before three equal bytes.
    while (
      at < row.length &&
      at - start < 128 &&
      !(row[at] === row[at + 1] && row[at] === row[at + 2] && at + 2 < row.length)
    )
      at++
    out[n++] = at - start - 1
    out.set(row.subarray(start, at), n)
    n += at - start
  }
  return out.slice(0, n)
}

export interface Encoded {
  /** Bytes of each packed row; empty unless RLE. */
  readonly rowLengths: readonly number[]
  readonly body: readonly Uint8Array[]
}

/** Encodes rows of `rowBytes` bytes each; `sampleSize` in bytes matters for the predicted form only. */
export function encodeRows(
  bytes: Uint8Array,
  rowBytes: number,
  sampleSize: number,
  compression: Compression,
): Encoded {
  switch (compression) {
    case 'raw':
      return { rowLengths: [], body: [bytes] }
    case 'zip':
      return { rowLengths: [], body: [deflateSync(bytes)] }
    case 'zipDelta':
      return { rowLengths: [], body: [deflateSync(predicted(bytes, rowBytes, sampleSize))] }
    case 'rle': {
      const body: Uint8Array[] = []
      for (let at = 0; at < bytes.length; at += rowBytes)
        body.push(packBits(bytes.subarray(at, at + rowBytes)))
      return { rowLengths: body.map(row => row.length), body }
    }
  }
}

/** Row-wise differences; float samples are split into byte planes first. */
function predicted(bytes: Uint8Array, rowBytes: number, sampleSize: number): Uint8Array {
  const out = new Uint8Array(bytes.length)
  for (let row = 0; row < bytes.length; row += rowBytes) {
    const source =
      sampleSize === 4 ? bytePlanes(bytes.subarray(row, row + rowBytes)) : bytes.subarray(row, row + rowBytes)
    const step = sampleSize === 2 ? 2 : 1
    for (let i = 0; i < rowBytes; i += step) {
      if (step === 1) out[row + i] = source[i]! - (i > 0 ? source[i - 1]! : 0)
      else {
        const value = source[i]! * 256 + source[i + 1]!
        const left = i > 0 ? source[i - 2]! * 256 + source[i - 1]! : 0
        out[row + i] = ((value - left) >> 8) & 255
        out[row + i + 1] = (value - left) & 255
      }
    }
  }
  return out
}

function bytePlanes(row: Uint8Array): Uint8Array {
  const n = row.length / 4
  return Uint8Array.from(row, (_, i) => row[(i % n) * 4 + Math.floor(i / n)]!)
}

/** Row lengths of RLE data, 2 bytes each or 4 in the large format. */
export function rowTable(lengths: readonly number[], big: boolean): Uint8Array {
  const out = new Uint8Array(lengths.length * (big ? 4 : 2))
  const view = new DataView(out.buffer)
  lengths.forEach((n, i) => {
    if (big) view.setUint32(i * 4, n)
    else view.setUint16(i * 2, n)
  })
  return out
}
