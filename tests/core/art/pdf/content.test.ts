import { expect, test } from 'vitest'
import { ContentReader, type Operand } from '../../../../core/art/pdf/content.ts'
import { readInlineImage } from '../../../../core/art/pdf/inline-image.ts'
import { look, nameOf, numberOf } from '../../../../core/art/pdf/objects.ts'
import { filtersOf } from '../../../../core/art/pdf/stream.ts'
import { PDFContext } from '../../../../core/base/pdf.ts'

const latin = (text: string) => Uint8Array.from(text, letter => letter.charCodeAt(0))

function all(text: string): [string, readonly Operand[]][] {
  const reader = new ContentReader(latin(text))
  const out: [string, readonly Operand[]][] = []
  while (reader.next()) out.push([reader.operator, reader.operands])
  return out
}
const operands = (text: string) => all(`${text} x`)[0]?.[1]

test('numbers: the examples of ISO 32000-2, 7.3.3, and what programs write beside them', () => {
  expect(operands('123 43445 +17 -98 0 34.5 -3.62 +123.6 4. -.002 0.0')).toEqual([
    123, 43445, 17, -98, 0, 34.5, -3.62, 123.6, 4, -0.002, 0,
  ])
  // A second sign, a sign alone, digits after a minus inside.
  expect(operands('--5 - 12-34 .')).toEqual([-5, 0, 12, 0])
})

test('strings: the examples of ISO 32000-2, 7.3.4', () => {
  const text = (bytes: Operand | undefined) => String.fromCharCode(...(bytes as Uint8Array))
  const [a, b, c, d, e, f] = operands(
    '(This (nested) is () one) (two \\\nlines) (one\r\ntwo\rthree) (\\245\\307 \\53 \\0533) <4E6F762073686D6F7A206B6120706F702E> <901FA>',
  )!
  expect(text(a)).toBe('This (nested) is () one')
  expect(text(b)).toBe('two lines')
  expect(text(c)).toBe('one\ntwo\nthree')
  expect([...(d as Uint8Array)]).toEqual([0o245, 0o307, 32, 43, 32, 43, 51])
  expect(text(e)).toBe('Nov shmoz ka pop.')
  expect([...(f as Uint8Array)]).toEqual([0x90, 0x1f, 0xa0])
})

test('names: the examples of ISO 32000-2, 7.3.5', () => {
  const names = operands(
    '/A;Name_With-Various***Characters? /1.2 /$$ /@pattern /.notdef /Lime#20Green /The_Key_of_F#23_Minor',
  )
  expect(names?.map(one => (one as { name: string }).name)).toEqual([
    'A;Name_With-Various***Characters?',
    '1.2',
    '$$',
    '@pattern',
    '.notdef',
    'Lime Green',
    'The_Key_of_F#_Minor',
  ])
})

test('arrays, dictionaries and comments', () => {
  expect(operands('[1 [true /A] null] << /K << /L 2 >> /M [3] >> % (4) x\n5')).toEqual([
    [1, [true, { name: 'A' }], null],
    {
      dict: new Map<string, unknown>([
        ['K', { dict: new Map([['L', 2]]) }],
        ['M', [3]],
      ]),
    },
    5,
  ])
})

test('words part at delimiters without a space', () => {
  expect(all('1 0 0 RG/F 1 Tf[(a)-2(b)]TJ(c)Tj').map(([operator]) => operator)).toEqual([
    'RG',
    'Tf',
    'TJ',
    'Tj',
  ])
})

test('what is damaged ends, and what follows is read', () => {
  for (const text of ['[1 2', '<< /A', '(open', '<4E', '/', '<< 1 2 >> x', ']]]>>)) x'])
    expect(() => all(text)).not.toThrow()
  expect(all(`${'['.repeat(500)}1${']'.repeat(500)} x 2 y`).at(-1)).toEqual(['y', [2]])
})

function inline(text: string) {
  const reader = new ContentReader(latin(text))
  reader.next()
  const image = readInlineImage(reader, PDFContext.create())
  reader.next()
  return { image, after: [reader.operator, ...reader.operands] }
}

test('inline images end where their samples do, though these hold an EI', () => {
  const { image, after } = inline('BI /W 6 /H 1 /BPC 8 /CS /G ID a EI b EI 1 w')
  expect(image?.getContentsString()).toBe('a EI b')
  expect(after).toEqual(['w', 1])
  expect(nameOf(image!.dict, 'ColorSpace')).toBe('DeviceGray')
  expect(numberOf(image!.dict, 'BitsPerComponent')).toBe(8)
})

test('inline images that are packed end at the EI that content follows, or by their stated length', () => {
  const binary = '\x01 EI \xff\x80'
  const { image, after } = inline(`BI /W 1 /H 1 /F /Fl /DP << /Columns 3 >> ID ${binary} EI Q`)
  expect(image?.getContents()).toEqual(latin(binary))
  expect(after).toEqual(['Q'])
  expect(filtersOf(image!.dict)[0]).toMatchObject({ name: 'FlateDecode' })
  expect(look(filtersOf(image!.dict)[0]!.parameters, 'Columns')?.toString()).toBe('3')
  const stated = inline('BI /W 9 /H 9 /F /AHx /L 8 ID 00 EI 1> EI Q')
  expect(stated.image?.getContentsString()).toBe('00 EI 1>')
  expect(inline('BI /W 1 Q').image).toBe(null)
  expect(inline('BI /W 1 /H 1 /CS [/I /RGB 1 <000000ffffff>] /BPC 1 ID \x80 EI S').after).toEqual(['S'])
})
