import { describe, expect, it } from 'vitest'
import { localText } from '../../../core/art/psd/strings.ts'

const hex = (text: string) => Uint8Array.from(text.split(' '), b => Number.parseInt(b, 16))

/** Bytes from the code pages' own tables: Mac Roman (unicode.org ROMAN.TXT) and JIS X 0208 in Shift JIS. */
describe('names of an unstated code page', () => {
  it.each([
    ['Dieline', '44 69 65 6c 69 6e 65', false],
    ['Découpe', '44 8e 63 6f 75 70 65', true],
    ['École', '83 63 6f 6c 65', true],
    ['Weiß', '57 65 69 a7', true],
    ['ユニコード', '83 86 83 6a 83 52 81 5b 83 68', true],
    ['Découpe', '44 c3 a9 63 6f 75 70 65', true],
  ])('%s', (text, bytes, guessed) => {
    expect(localText(hex(bytes))).toEqual({ text, guessed })
  })
})
