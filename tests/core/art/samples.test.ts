import { deflateSync } from 'node:zlib'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { leastPacked, unpackRow } from '../../../core/art/packbits.ts'
import { decodePlane, type PackedPlane } from '../../../core/art/psd/planes.ts'
import { toSamples } from '../../../core/art/psd/samples.ts'
import { BadInput } from '../../../core/base/finding.ts'
import { memorySource } from '../../../core/base/source.ts'

const hex = (text: string): Uint8Array => Uint8Array.from(text.split(' '), b => Number.parseInt(b, 16))

describe('PackBits', () => {
  // Apple Technical Note TN1023, "Understanding PackBits": its example.
  const packed = hex('FE AA 02 80 00 2A FD AA 03 80 00 2A 22 F7 AA')
  const plain = hex('AA AA AA 80 00 2A AA AA AA AA 80 00 2A 22 AA AA AA AA AA AA AA AA AA AA')

  it('unpacks the worked example', () => {
    const out = new Uint8Array(plain.length)
    expect(unpackRow(packed, 0, packed.length, out, 0, out.length)).toBe(true)
    expect(out).toEqual(plain)
  })

  it('passes over the no-operation byte 128 (TIFF 6.0, section 9)', () => {
    const out = new Uint8Array(3)
    expect(unpackRow(hex('80 FE 07'), 0, 3, out, 0, 3)).toBe(true)
    expect(out).toEqual(hex('07 07 07'))
  })

  it('says no to rows that are too short, too long or cut inside a run', () => {
    const out = new Uint8Array(30)
    expect(unpackRow(packed, 0, packed.length, out, 0, 25)).toBe(false)
    expect(unpackRow(packed, 0, packed.length, out, 0, 20)).toBe(false)
    expect(unpackRow(packed, 0, 5, out, 0, 24)).toBe(false)
    expect(unpackRow(packed, 0, 1, out, 0, 3)).toBe(false)
  })

  it('never writes outside the row, whatever the bytes are', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.integer({ min: 1, max: 300 }), (bytes, row) => {
        const out = new Uint8Array(row + 20).fill(7)
        unpackRow(bytes, 0, bytes.length, out, 10, 10 + row)
        expect([...out.subarray(0, 10), ...out.subarray(10 + row)].every(v => v === 7)).toBe(true)
      }),
      { seed: 7, numRuns: 500 },
    )
  })

  it('never packs tighter than two bytes for 128', () => {
    expect(leastPacked(128)).toBe(2)
    expect(leastPacked(129)).toBe(4)
  })
})

/** Differences as TIFF Technical Note 3 (floating-point predictor) and TIFF 6.0 section 14 define them. */
describe('predicted samples', () => {
  const width = 37
  const height = 5

  it('of 8 bits are summed along each row', () => {
    const plain = Uint8Array.from({ length: width * height }, (_, i) => (i * i * 7) & 255)
    const packed = plain.map((v, i) => (i % width === 0 ? v : v - plain[i - 1]!))
    expect(toSamples(packed, width, height, 8, true)).toEqual(plain)
  })

  it('of 16 bits are summed after the byte order is put right', () => {
    const plain = Uint16Array.from({ length: width * height }, (_, i) => (i * 7919) & 0xffff)
    const packed = new Uint8Array(plain.length * 2)
    const view = new DataView(packed.buffer)
    for (let i = 0; i < plain.length; i++)
      view.setUint16(i * 2, plain[i]! - (i % width === 0 ? 0 : plain[i - 1]!))
    expect(toSamples(packed, width, height, 16, true)).toEqual(plain)
  })

  it('of 32 bits are summed as bytes in four planes', () => {
    const plain = Float32Array.from({ length: width * height }, (_, i) => Math.sin(i) * 1000)
    expect(toSamples(floatRows(plain, width), width, height, 32, true)).toEqual(plain)
  })

  it('of 1 bit read 1 as black', () => {
    expect(toSamples(hex('A0 80') as Uint8Array<ArrayBuffer>, 9, 1, 1, false)).toEqual(
      Uint8Array.of(0, 255, 0, 255, 255, 255, 255, 255, 0),
    )
  })
})

function floatRows(plain: Float32Array, width: number): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(plain.length * 4)
  const bytes = new DataView(new ArrayBuffer(4))
  for (let row = 0; row < plain.length; row += width) {
    const at = row * 4
    for (let i = 0; i < width; i++) {
      bytes.setFloat32(0, plain[row + i]!)
      for (let b = 0; b < 4; b++) out[at + b * width + i] = bytes.getUint8(b)
    }
    for (let i = width * 4 - 1; i > 0; i--) out[at + i]! -= out[at + i - 1]!
  }
  return out
}

/** The same 16-bit samples packed in each way: by hand (raw, RLE) and by zlib. */
describe('planes of 16 bits', () => {
  const width = 300
  const height = 11
  const plain = Uint16Array.from({ length: width * height }, (_, i) =>
    i % 50 < 20 ? 0x1234 : (i * 7919) & 0xffff,
  )
  const big = new Uint8Array(plain.length * 2)
  new DataView(big.buffer)
  for (const [i, v] of plain.entries()) new DataView(big.buffer).setUint16(i * 2, v)
  const box = { left: 3, top: 4, right: 3 + width, bottom: 4 + height }
  const place = { file: 'made.psd', part: 'layer 1' }

  const plane = (compression: PackedPlane['compression'], bytes: Uint8Array, large = false) => {
    const packed: PackedPlane = {
      place,
      compression,
      box,
      depth: 16,
      offset: 5,
      end: 5 + bytes.length,
      large,
    }
    const file = new Uint8Array(bytes.length + 9)
    file.set(bytes, 5)
    return decodePlane(memorySource('made.psd', file), packed, 1e6)
  }

  const predicted = new Uint8Array(big.length)
  for (let i = 0; i < plain.length; i++)
    new DataView(predicted.buffer).setUint16(i * 2, plain[i]! - (i % width === 0 ? 0 : plain[i - 1]!))

  it.each([
    ['raw', big, false],
    ['rle', packed(2), false],
    ['rle', packed(4), true],
    ['zip', new Uint8Array(deflateSync(big)), false],
    ['zipPredicted', new Uint8Array(deflateSync(predicted)), false],
  ] as const)('packed as %s are all read', async (compression, bytes, large) => {
    const read = await plane(compression, bytes, large)
    expect(read.box).toEqual(box)
    expect(read.data).toEqual(plain)
  })

  /** Rows as literals of up to 128 bytes and, where a row begins with one value, a run; lengths in 2 or 4 bytes. */
  function packed(size: 2 | 4): Uint8Array {
    const rows: number[][] = []
    for (let y = 0; y < height; y++) {
      const row = big.subarray(y * width * 2, (y + 1) * width * 2)
      const out: number[] = []
      for (let at = 0; at < row.length; ) {
        let run = 1
        while (run < 128 && row[at + run] === row[at]) run++
        if (run > 1) out.push(257 - run, row[at]!)
        else out.push(0, row[at]!)
        at += run
      }
      rows.push(out)
    }
    const table = rows.flatMap(r =>
      size === 2 ? [r.length >> 8, r.length & 255] : [0, 0, r.length >> 8, r.length & 255],
    )
    return Uint8Array.from([...table, ...rows.flat()])
  }

  it.each([
    ['raw', big.subarray(0, big.length - 1)],
    ['rle', packed(2).subarray(0, 900)],
    ['zip', new Uint8Array(deflateSync(big)).subarray(0, 500)],
    ['zip', new Uint8Array(deflateSync(big.subarray(0, 400)))],
    ['zip', new Uint8Array(4000).fill(9)],
    ['zip', new Uint8Array(0)],
  ] as const)('that are cut short or no %s data are refused', async (compression, bytes) => {
    await expect(plane(compression, bytes)).rejects.toThrow(BadInput)
  })

  it('that claim far more than their bytes can hold are refused before anything is allocated', async () => {
    const vast = { left: 0, top: 0, right: 30_000, bottom: 30_000 }
    for (const compression of ['raw', 'rle', 'zip'] as const) {
      const claimed: PackedPlane = {
        place,
        compression,
        box: vast,
        depth: 8,
        offset: 0,
        end: 100_000,
        large: false,
      }
      const source = memorySource('made.psd', new Uint8Array(100_000))
      await expect(decodePlane(source, claimed, 4e9)).rejects.toThrow(BadInput)
    }
  })
})
