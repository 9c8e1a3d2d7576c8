import { describe, expect, it } from 'vitest'
import { readArt } from '../../../core/art/read.ts'
import { BadInput } from '../../../core/base/finding.ts'
import type { ByteSource } from '../../../core/base/source.ts'
import { Bytes } from '../../support/psd-bytes.ts'

/** A file that exists only where it was written to; every other byte is a hash of its place. */
class Sparse implements ByteSource {
  readonly name = 'large.psb'
  size = 0
  longestRead = 0
  private readonly parts: { at: number; bytes: Uint8Array }[] = []

  write(bytes: Uint8Array): void {
    this.parts.push({ at: this.size, bytes })
    this.size += bytes.length
  }
  skip(length: number): void {
    this.size += length
  }
  async read(offset: number, length: number): Promise<Uint8Array> {
    if (offset < 0 || offset + length > this.size) throw new RangeError('outside')
    this.longestRead = Math.max(this.longestRead, length)
    const out = new Uint8Array(length)
    for (let i = 0; i < length; i++) out[i] = filler(offset + i)
    for (const { at, bytes } of this.parts) {
      const from = Math.max(at, offset)
      const to = Math.min(at + bytes.length, offset + length)
      if (from < to) out.set(bytes.subarray(from - at, to - at), from - offset)
    }
    return out
  }
}

/** Differs between places that are 2^32 apart, so that an offset cut to 32 bits shows. */
const filler = (at: number): number => (at * 7 + Math.floor(at / 2 ** 32) * 101) & 255

const width = 100_000
const height = 60_000
const planeLength = width * height

/** Greyscale, two layers: the lower one of 6 GB, the upper one of 20 × 10 pixels behind it; then 6 GB of picture. */
function vastFile(): Sparse {
  const file = new Sparse()
  file.write(
    new Bytes()
      .ascii('8BPS')
      .u16(2)
      .zeros(6)
      .u16(1)
      .u32(height)
      .u32(width)
      .u16(8)
      .u16(1)
      .u32(0)
      .u32(0)
      .join(),
  )
  const record = (name: string, right: number, bottom: number, length: number) =>
    new Bytes()
      .i32(0)
      .i32(0)
      .i32(bottom)
      .i32(right)
      .u16(1)
      .u16(0)
      .size(length, true)
      .ascii('8BIMnorm')
      .u8(255)
      .zeros(3)
      .u32(16)
      .u32(0)
      .u32(0)
      .pascal(name, 4)
      .join()
  const records = [record('vast', width, height, planeLength + 2), record('small', 20, 10, 202)]
  const info = 2 + records.reduce((n, r) => n + r.length, 0) + planeLength + 2 + 202
  file.write(
    new Bytes()
      .size(8 + info + 4, true)
      .size(info, true)
      .u16(2)
      .all(records)
      .join(),
  )
  file.write(Uint8Array.of(0, 0))
  file.skip(planeLength)
  file.write(Uint8Array.of(0, 0))
  file.skip(200)
  file.write(new Bytes().u32(0).u16(0).join())
  file.skip(planeLength)
  return file
}

describe('a PSB of 12 GB', () => {
  it('is opened by seeking, and a plane beyond 2^32 is read from its place', async () => {
    const source = vastFile()
    expect(source.size).toBeGreaterThan(12e9)
    const file = await readArt(source, { memoryBudget: 8 * 2 ** 30 })
    expect(file.art.layers.map(l => l.name)).toEqual(['vast', 'small'])
    const plane = await file.layerPlane(file.art.layers[1]!.id, 0)
    const first = source.size - planeLength - 6 - 200
    expect(first).toBeGreaterThan(2 ** 32)
    expect([...plane!.data]).toEqual(Array.from({ length: 200 }, (_, i) => filler(first + i)))
    expect(file.art.hasComposite).toBe(true)
    // Neither the file nor any large part of it was ever asked for at once.
    expect(source.longestRead).toBeLessThanOrEqual(2 ** 20)
  })

  it('is refused with the default budget, since one plane of it takes 5.6 GiB', async () => {
    await expect(readArt(vastFile())).rejects.toThrow(/needs 5723 MiB, above the memory budget of 4096 MiB/)
    await expect(readArt(vastFile())).rejects.toThrow(BadInput)
  })

  it('cut short is told at once, without reading through it', async () => {
    const source = vastFile()
    source.size = 5e9
    await expect(readArt(source, { memoryBudget: 8 * 2 ** 30 })).rejects.toThrow(/cut short/)
  })
})
