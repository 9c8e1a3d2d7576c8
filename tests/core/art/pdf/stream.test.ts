import { expect, test } from 'vitest'
import { unpredict } from '../../../../core/art/pdf/predict.ts'
import { streamData } from '../../../../core/art/pdf/stream.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { deflate } from '../../../../core/base/inflate.ts'
import { PDFContext, PDFRawStream } from '../../../../core/base/pdf.ts'

const context = PDFContext.create()
const stream = (dict: object, bytes: Uint8Array) =>
  PDFRawStream.of(context.obj(dict as never) as never, bytes)
const data = (dict: object, bytes: Uint8Array, limit = 1e6) =>
  streamData('small.pdf', stream(dict, bytes), limit)
const letters = (text: string) => new TextEncoder().encode(text)

test('LZW: the worked example of ISO 32000-2, 7.4.4.2', () => {
  const packed = Uint8Array.of(0x80, 0x0b, 0x60, 0x50, 0x22, 0x0c, 0x0c, 0x85, 0x01)
  expect([...data({ Filter: 'LZWDecode' }, packed).bytes]).toEqual([45, 45, 45, 45, 45, 65, 45, 45, 45, 66])
})

test('LZW: codes grow to twelve bits and the table is begun anew', () => {
  // Packed here by the rule of the standard, one code a letter, so that widths change and nothing else is tried.
  const text = Array.from({ length: 9000 }, (_, at) => (at * 7) % 251)
  const bits: number[] = []
  const put = (code: number, width: number) => {
    for (let bit = width - 1; bit >= 0; bit--) bits.push((code >> bit) & 1)
  }
  let next = 258
  let width = 9
  put(256, 9)
  let first = true
  for (const letter of text) {
    put(letter, width)
    if (!first) next++
    first = false
    width = next + 1 >= 2048 ? 12 : next + 1 >= 1024 ? 11 : next + 1 >= 512 ? 10 : 9
    if (next >= 4093) {
      put(256, width)
      next = 258
      width = 9
      first = true
    }
  }
  put(257, width)
  while (bits.length % 8 !== 0) bits.push(0)
  const packed = Uint8Array.from({ length: bits.length / 8 }, (_, at) =>
    bits.slice(at * 8, at * 8 + 8).reduce((sum, bit) => sum * 2 + bit, 0),
  )
  const undone = data({ Filter: 'LZWDecode' }, packed)
  expect(undone.whole).toBe(true)
  expect([...undone.bytes]).toEqual(text)
})

test('filters follow one another and image filters are left', () => {
  const packed = deflate(letters('stars'))
  const hex = letters(`${[...packed].map(byte => byte.toString(16).padStart(2, '0')).join('')}>`)
  expect(new TextDecoder().decode(data({ Filter: ['AHx', 'Fl'] }, hex).bytes)).toBe('stars')
  const left = data(
    { Filter: ['FlateDecode', 'DCTDecode'], DecodeParms: [null, { ColorTransform: 0 }] },
    packed,
  )
  expect(left.rest.map(filter => filter.name)).toEqual(['DCTDecode'])
  expect(new TextDecoder().decode(left.bytes)).toBe('stars')
})

test('what unpacks to too much, is cut, or has an unknown filter is said', () => {
  const packed = deflate(new Uint8Array(5_000_000))
  const code = (work: () => unknown) => {
    try {
      work()
    } catch (error) {
      if (error instanceof BadInput) return error.code
    }
    return 'none'
  }
  expect(code(() => data({ Filter: 'FlateDecode' }, packed))).toBe('stream-too-large')
  expect(code(() => data({ Filter: 'Comet' }, packed))).toBe('stream-filter')
  const cut = data(
    { Filter: 'FlateDecode' },
    deflate(letters('stars and lens rings '.repeat(50))).slice(0, 30),
  )
  expect(cut.whole).toBe(false)
})

test('rows are foretold by PNG filters (ISO/IEC 15948, 9.2) and by TIFF differences (TIFF 6.0, 14)', () => {
  const rows = Uint8Array.of(0, 10, 20, 30, 1, 5, 5, 5, 2, 1, 1, 1, 3, 2, 2, 2, 4, 1, 1, 1)
  const png = unpredict(rows, { predictor: 15, colors: 1, bits: 8, columns: 3 })
  // none; left; up; mean of left and up, rounded down; Paeth
  expect([...png]).toEqual([10, 20, 30, 5, 10, 15, 6, 11, 16, 5, 10, 15, 6, 11, 16])
  const tiff = unpredict(Uint8Array.of(1, 2, 1, 2, 1, 2), { predictor: 2, colors: 2, bits: 8, columns: 3 })
  expect([...tiff]).toEqual([1, 2, 2, 4, 3, 6])
  const four = unpredict(Uint8Array.of(0x11, 0x1f), { predictor: 2, colors: 1, bits: 4, columns: 4 })
  expect([...four]).toEqual([0x12, 0x32])
})
