import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bytesToText, textLength, textToBytes } from '../../../core/base/text85.ts'

describe('bytes as text', () => {
  test('any bytes come back, as letters that are no markup', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), bytes => {
        const text = bytesToText(bytes)
        expect(text.length).toBe(textLength(bytes.length))
        expect(text).toMatch(/^[#-%(-,.-;=?-[\]-_a-~]*$/)
        expect(textToBytes(text)).toEqual(bytes)
      }),
    )
  })

  test('a long run goes past what is made into text at once', () => {
    const bytes = Uint8Array.from({ length: 100_003 }, (_, i) => (i * 31) ^ (i >> 7))
    expect(textToBytes(bytesToText(bytes))).toEqual(bytes)
  })

  test('text that was cut or changed is refused with the place', () => {
    const text = bytesToText(Uint8Array.of(1, 2, 3, 4, 5))
    expect(() => textToBytes(text.slice(0, 6))).toThrow('letter 6: the text ends early')
    expect(() => textToBytes(`${text.slice(0, 3)}<${text.slice(4)}`)).toThrow('letter 4: is none of the 85')
    expect(() => textToBytes(`${text.slice(0, 3)}ü${text.slice(4)}`)).toThrow('letter 4')
  })
})
