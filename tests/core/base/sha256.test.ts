import { createHash } from 'node:crypto'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Sha256, sha256Hex } from '../../../core/base/sha256.ts'

// FIPS 180-2, appendix B (the examples that FIPS 180-4 refers to), and the hash of nothing.
test.each([
  ['', 'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855'],
  ['abc', 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'],
  [
    'abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq',
    '248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1',
  ],
  ['a'.repeat(1_000_000), 'cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0'],
])('SHA-256 of the examples of the standard', (text, hash) => {
  expect(sha256Hex(text)).toBe(hash)
})

test('however the bytes come, the hash is that of the system', () => {
  fc.assert(
    fc.property(fc.array(fc.uint8Array({ maxLength: 200 }), { maxLength: 8 }), pieces => {
      const [ours, systems] = [new Sha256(), createHash('sha256')]
      for (const piece of pieces) {
        ours.update(piece)
        systems.update(piece)
      }
      expect(ours.hex()).toBe(systems.digest('hex'))
    }),
  )
})

test('a text counts as UTF-8', () => {
  const text = 'Sternwarte Ø 12 µm ☄ 🜨'
  expect(sha256Hex(text)).toBe(createHash('sha256').update(text, 'utf8').digest('hex'))
})
