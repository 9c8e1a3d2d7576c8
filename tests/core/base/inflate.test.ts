import { deflateSync } from 'node:zlib'
import { describe, expect, it } from 'vitest'
import { inflateInto } from '../../../core/base/inflate.ts'

const plain = Uint8Array.from({ length: 300_000 }, (_, i) => (i % 1000 < 500 ? 7 : (i * i) >> 4))
const packed = new Uint8Array(deflateSync(plain))

function chunks(bytes: Uint8Array, size: number): () => Promise<Uint8Array | null> {
  let at = 0
  return async () => {
    if (at >= bytes.length) return null
    at += size
    return bytes.subarray(at - size, at)
  }
}

/** Data packed by zlib itself. */
describe('inflateInto', () => {
  it.each([1000, 64, 1 << 20])('unpacks chunks of %i bytes', async size => {
    const out = new Uint8Array(plain.length)
    expect(await inflateInto(chunks(packed, size), out)).toBe(plain.length)
    expect(Buffer.compare(out, plain)).toBe(0)
  })

  it('passes over what stands in front, and leaves what stands behind', async () => {
    const out = new Uint8Array(1000)
    expect(await inflateInto(chunks(packed, 512), out, 123_456)).toBe(1000)
    expect(out).toEqual(plain.subarray(123_456, 124_456))
  })

  it('of data that ends early gives less, or throws', async () => {
    const out = new Uint8Array(plain.length)
    let written = 0
    try {
      written = await inflateInto(chunks(packed.subarray(0, packed.length / 2), 100), out)
    } catch (error) {
      expect(error).toBeInstanceOf(Error)
    }
    expect(written).toBeLessThan(plain.length)
  })

  it('throws on what is not zlib data', async () => {
    await expect(
      inflateInto(chunks(new Uint8Array(500).fill(255), 100), new Uint8Array(10)),
    ).rejects.toThrow()
  })
})
