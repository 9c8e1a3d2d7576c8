import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { sha256 } from '../../../core/base/sha256.ts'
import { memorySource } from '../../../core/base/source.ts'

const of = (bytes: Uint8Array) => sha256(memorySource('a', bytes))
const text = (s: string) => new TextEncoder().encode(s)

describe('sha256', () => {
  // FIPS 180-4 example values (NIST, "Examples with Intermediate Values", SHA-256), and the empty message.
  it.each([
    ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
    [
      'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
      '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
    ],
    ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ])('of "%s"', async (message, digest) => {
    expect(await of(text(message))).toBe(digest)
  })

  it('of more than one chunk is what Node says', async () => {
    const bytes = Uint8Array.from({ length: 9_000_001 }, (_, i) => (i * 31) >> 3)
    expect(await of(bytes)).toBe(createHash('sha256').update(bytes).digest('hex'))
  })
})
