import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { InkField, Matrix } from '../../../../core/art/ink/mark.ts'
import { openImage } from '../../../../core/art/pdf/image.ts'
import { deflate } from '../../../../core/base/inflate.ts'
import { readingOf } from '../../../support/pdf-reading.ts'
import { onePage, type PdfText } from '../../../support/pdf-write.ts'
import { hasTiffsep, tiffsep } from '../../../support/tiffsep.ts'

const mm = 25.4 / 72
const white =
  '[/Separation /White /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 0 0 0.1] /N 1 >>]'
const duo = (pdf: PdfText) =>
  `[/DeviceN [/Cyan /White] /DeviceCMYK ${pdf.stream('/FunctionType 4 /Domain [0 1 0 1] /Range [0 1 0 1 0 1 0 1]', '{ pop 0 0 0 }')}]`
const image = (pdf: PdfText, entries: string, data: Uint8Array | readonly number[]) =>
  pdf.stream(`/Type /XObject /Subtype /Image ${entries}`, Uint8Array.from(data))

interface Shown {
  readonly planes: Map<string, Float32Array>
  readonly shape: Float32Array
}

/** Squares of `step` mm of the field from a corner up; rows from the top. */
function seen(
  field: InkField,
  names: readonly string[],
  box: readonly [number, number, number, number],
  columns: number,
) {
  const [left, bottom, right, top] = box
  const step = (right - left) / columns
  const rows = Math.round((top - bottom) / step)
  const out = field.inks.map(() => new Float32Array(columns * rows))
  const shape = new Float32Array(columns * rows)
  for (let y = 0; y < rows; y++) {
    const part = (plane: Float32Array) => plane.subarray(y * columns, (y + 1) * columns)
    field.row(left + step / 2, top - (y + 0.5) * step, step, columns, out.map(part), part(shape))
  }
  return {
    planes: new Map(field.inks.map((ink, k) => [names[ink]!, out[k]!])),
    shape,
    rows,
  } satisfies Shown & {
    rows: number
  }
}

async function opened(write: (pdf: PdfText) => string, matrix: Matrix, paint = { inks: [0], values: [0.7] }) {
  const reading = await readingOf(pdf => `/I ${write(pdf)}`)
  const field = await openImage(reading, reading.object('I'), matrix, reading.resources, paint)
  reading.close()
  return { reading, field, names: reading.inks.list.map(({ name }) => name) }
}
/** The image on 1 mm a sample, asked for in squares of `step` mm. */
async function inSquares(
  write: (pdf: PdfText) => string,
  [width, height]: readonly [number, number],
  step = 1,
  paint = { inks: [0], values: [0.7] },
) {
  const { field, names, reading } = await opened(write, [width, 0, 0, height, 0, 0], paint)
  const { planes, shape } = seen(field, names, [0, 0, width, height], Math.round(width / step))
  const rounded = (plane: Float32Array | undefined) =>
    Array.from(plane ?? [], value => Math.round(value * 1000) / 1000)
  return { ink: (name: string) => rounded(planes.get(name)), shape: rounded(shape), reading }
}

describe('samples of an image', () => {
  it('are amounts of the inks of its space, one square a sample', async () => {
    const { ink } = await inSquares(
      pdf =>
        image(
          pdf,
          `/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace ${duo(pdf)}`,
          [255, 0, 51, 102, 0, 255, 204, 153],
        ),
      [2, 2],
    )
    expect(ink('Cyan')).toEqual([1, 0.2, 0, 0.8])
    expect(ink('White')).toEqual([0, 0.4, 1, 0.6])
  })

  it.each([
    [1, [0b10_000000, 0b01_000000], [0, 1, 1, 0]],
    [2, [0b00_01_0000, 0b10_11_0000], [1, 0.667, 0.333, 0]],
    [4, [0x0f, 0x30], [1, 0, 0.8, 1]],
    [16, [0, 0, 0xff, 0xff, 0x80, 0, 0x33, 0x33], [1, 0, 0.498, 0.8]],
  ])('of %d bits', async (bits, bytes, black) => {
    const { ink } = await inSquares(
      pdf => image(pdf, `/Width 2 /Height 2 /BitsPerComponent ${bits} /ColorSpace /DeviceGray`, bytes),
      [2, 2],
    )
    expect(ink('Black')).toEqual(black)
  })

  it('go through Decode', async () => {
    const { ink } = await inSquares(
      pdf =>
        image(
          pdf,
          `/Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceCMYK /Decode [1 0 0 0.5 0 1 0.2 0.8]`,
          [255, 255, 255, 255, 0, 0, 0, 0],
        ),
      [2, 1],
    )
    expect(['Cyan', 'Magenta', 'Yellow', 'Black'].map(ink)).toEqual([
      [0, 1],
      [0.5, 0],
      [1, 0],
      [0.8, 0.2],
    ])
  })

  it('of RGB become the four inks as the separator makes them', async () => {
    const { ink, reading } = await inSquares(
      pdf =>
        image(
          pdf,
          '/Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceRGB',
          [255, 128, 0, 255, 255, 255],
        ),
      [2, 1],
    )
    const other = await readingOf(() => '')
    const want = other.separator.cmyk({ space: 'RGB', profile: null }, Float32Array.of(1, 128 / 255, 0))
    for (const [i, name] of ['Cyan', 'Magenta', 'Yellow', 'Black'].entries())
      expect(Math.abs(ink(name)[0]! - want[i]!)).toBeLessThanOrEqual(0.5 / 255 + 0.001)
    expect(ink('Cyan')[1]).toBe(0)
    expect(reading.findings.map(({ code }) => code)).toEqual(['pdf-rgb-without-profile'])
  })

  it('are averaged where they are finer, each by its area', async () => {
    const write = (pdf: PdfText) =>
      image(
        pdf,
        `/Width 4 /Height 2 /BitsPerComponent 8 /ColorSpace ${white}`,
        [0, 255, 51, 51, 0, 255, 153, 153],
      )
    expect((await inSquares(write, [4, 2], 2)).ink('White')).toEqual([0.5, 0.4])
    // Squares of 4/3 samples: the first has all of the first and a third of the second.
    const thirds = await inSquares(write, [4, 2], 4 / 3)
    expect(thirds.ink('White')[0]).toBeCloseTo(0.25, 2)
  })

  it('stay as they are where they are coarser, unless Interpolate asks for lines between them', async () => {
    const write = (more: string) => (pdf: PdfText) =>
      image(pdf, `/Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace ${white} ${more}`, [0, 255])
    const row = [0, 0, 0, 0, 1, 1, 1, 1]
    expect((await inSquares(write(''), [2, 1], 0.25)).ink('White').slice(0, 8)).toEqual(row)
    const smooth = (await inSquares(write('/Interpolate true'), [2, 1], 0.25)).ink('White').slice(0, 8)
    expect(smooth).toEqual([0, 0, 0.125, 0.375, 0.625, 0.875, 1, 1])
  })

  it('turn with their matrix', async () => {
    const write = (pdf: PdfText) =>
      image(pdf, `/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace ${white}`, [0, 51, 102, 255])
    // A quarter turn to the left: what was right is above.
    const { field, names } = await opened(write, [0, 2, -2, 0, 2, 0])
    const left = Array.from(seen(field, names, [0, 0, 2, 2], 2).planes.get('White')!)
    for (const [i, value] of [0.2, 1, 0, 0.4].entries()) expect(left[i]).toBeCloseTo(value, 5)
    // An eighth, whose middle is that of the image.
    const h = Math.SQRT1_2 * 2
    const turned = await opened(write, [h, h, -h, h, 0, 0])
    const top = seen(turned.field, turned.names, [-0.1, 2 * h - 0.6, 0.1, 2 * h - 0.4], 1).planes.get(
      'White',
    )!
    expect(top[0]).toBeCloseTo(0.2, 5)
  })
})

describe('what of an image is painted', () => {
  it('a stencil takes the paint where it is 0, or where it is 1', async () => {
    const write = (more: string) => (pdf: PdfText) =>
      image(pdf, `/Width 4 /Height 1 /ImageMask true ${more}`, [0b0110_0000])
    const plain = await inSquares(write(''), [4, 1])
    expect(plain.shape).toEqual([1, 0, 0, 1])
    expect(plain.ink('Cyan')).toEqual([0.7, 0.7, 0.7, 0.7])
    expect((await inSquares(write('/Decode [1 0]'), [4, 1])).shape).toEqual([0, 1, 1, 0])
    expect((await inSquares(write(''), [4, 1], 2)).shape).toEqual([0.5, 0.5])
  })

  const picture = (pdf: PdfText, more: string) =>
    image(pdf, `/Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace ${white} ${more}`, [51, 255])

  it('a soft mask is its opacity, and what is hidden does not stain what is seen', async () => {
    const mask = (pdf: PdfText, more = '') =>
      image(pdf, `/Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray ${more}`, [255, 0])
    const write = (pdf: PdfText) => picture(pdf, `/SMask ${mask(pdf)}`)
    expect((await inSquares(write, [2, 1])).shape).toEqual([1, 0])
    const together = await inSquares(
      pdf =>
        image(
          pdf,
          `/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace ${white} /SMask ${mask(pdf)}`,
          [51, 255, 51, 255],
        ),
      [2, 2],
      2,
    )
    expect(together.shape).toEqual([0.5])
    expect(together.ink('White')).toEqual([0.2])
    expect(
      (await inSquares(pdf => picture(pdf, `/SMask ${mask(pdf, '/Decode [1 0]')}`), [2, 1])).shape,
    ).toEqual([0, 1])
  })

  it('a mask of its own size cuts it', async () => {
    const cut = (pdf: PdfText) => image(pdf, '/Width 8 /Height 2 /ImageMask true', [0x0f, 0xff])
    const { shape } = await inSquares(pdf => picture(pdf, `/Mask ${cut(pdf)}`), [2, 1])
    expect(shape).toEqual([0.5, 0])
  })

  it('a range of its codes is left out', async () => {
    expect((await inSquares(pdf => picture(pdf, '/Mask [50 60]'), [2, 1])).shape).toEqual([0, 1])
    const { shape } = await inSquares(
      pdf =>
        image(
          pdf,
          '/Width 2 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceCMYK /Mask [0 9 0 9 0 9 0 9]',
          [1, 2, 3, 4, 1, 2, 3, 40],
        ),
      [2, 1],
    )
    expect(shape).toEqual([0, 1])
  })

  it('a colour that was mixed in is taken out again', async () => {
    // ISO 32000-2, 11.6.5.2: c = m + (c' − m) / α, with m = 0.2, α = 0.4, c' = 0.4: 0.7.
    const soft = (pdf: PdfText) =>
      image(pdf, '/Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray /Matte [0.2]', [102])
    const { ink, shape } = await inSquares(
      pdf =>
        image(pdf, `/Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace ${white} /SMask ${soft(pdf)}`, [102]),
      [1, 1],
    )
    expect(shape).toEqual([0.4])
    expect(ink('White')[0]).toBeCloseTo(0.7, 2)
  })
})

describe('a damaged image', () => {
  it.each([
    ['/Width 0 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray', 'has 0 × 2 pixels'],
    ['/Width 2 /Height 2 /BitsPerComponent 3 /ColorSpace /DeviceGray', 'has 3 bits'],
    ['/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /Nowhere', 'is not among the resources'],
    ['/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /Pattern', 'colours of a pattern'],
    ['/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /DCTDecode', 'is damaged'],
    ['/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /JPXDecode', 'is damaged'],
    ['/Width 2 /Height 2 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /JBIG2Decode', 'is damaged'],
    ['/Width 8000000 /Height 8000000 /BitsPerComponent 8 /ColorSpace /DeviceGray', 'more than can be held'],
    ['/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace /DeviceGray /Filter /SquashDecode', 'SquashDecode'],
  ])('%s is told with its place and paints nothing', async (entries, words) => {
    const { field, names, reading } = await opened(
      pdf => image(pdf, entries, [1, 2, 3, 4]),
      [10, 0, 0, 10, 5, 7],
    )
    expect(reading.findings).toMatchObject([{ code: 'pdf-image', severity: 'error' }])
    expect(reading.findings[0]!.message).toContain(words)
    expect(reading.findings[0]!.where).toMatch(/^image of .* at 5\.0, 7\.0 mm$/)
    expect(reading.inexact).toHaveLength(1)
    expect(Math.max(...seen(field, names, [5, 7, 15, 17], 4).shape)).toBe(0)
  })

  it('whose data end early keeps the rows that are there', async () => {
    const { shape, ink, reading } = await inSquares(
      pdf => image(pdf, `/Width 2 /Height 3 /BitsPerComponent 8 /ColorSpace ${white}`, [51, 51, 102, 102, 9]),
      [2, 3],
    )
    expect(shape).toEqual([1, 1, 1, 1, 0, 0])
    expect(ink('White').slice(0, 4)).toEqual([0.2, 0.2, 0.4, 0.4])
    expect(reading.findings).toMatchObject([{ code: 'pdf-image-cut' }])
    expect(reading.findings[0]!.message).toContain('after 2 of its 3 rows')
  })
})

const bytesOf = (base64: string) => Uint8Array.from(atob(base64), letter => letter.charCodeAt(0))
const hex = (text: string) => Uint8Array.from(text.match(/../g)!, pair => Number.parseInt(pair, 16))

/** A picture of 40 × 24 bits, 1 is black: noise over a threshold (`convert plasma: -threshold 50%`). */
const noise = hex(
  [
    '01bfffc800007ffffce0003fffffc0001ffffff8300ffffffff7f7fffffffff7ffffffffffffffffffffffffffffffffffff',
    'ffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffffff',
    'ffffffffffffffffffffffffffffffffffffffff',
  ].join(''),
)
/** The same as `convert -compress Group4` and `-compress Fax` pack it. */
const group4 = hex('3f91c172ea18b2f58ab072fb06148e323865c7c7fffffffe002002')
const group3 = hex(
  [
    '0001fc705dd20001a06c7b00013817e00140654000017e6198000135638c70cb0001350e386580013506c0013506c0013506',
    'c0013506c0013506c0013506c0013506c0013506c0013506c0013506c0013506c0013506c0013506c0013506c0013506c001',
    '3506c0013506c0',
  ].join(''),
)
/** ITU-T T.88, annex H.1, second page: its head (64 × 56) and its generic region of 54 × 44 at (4, 11). */
const jbig2 = hex(
  '00000000300001000000130000004000000038000000000000000001000000000001270001000000230000003600' +
    '00002c000000040000000b000803fffdff02fefefe04eeed87fbcb2bffac',
)
/** 24 × 16 px, red above to blue below: `vips jp2ksave --lossless` of `convert -size 24x16 gradient:red-blue`. */
const jp2 = bytesOf(
  [
    'AAAADGpQICANCocKAAAAFGZ0eXBqcDIgAAAAAGpwMiAAAAAtanAyaAAAABZpaGRyAAAAEAAAABgAAwcHAAAAAAAPY29scgEAAAAA',
    'ABAAAAKEanAyY/9P/1EALwAAAAAAGAAAABAAAAAAAAAAAAAAAgAAAAIAAAAAAAAAAAAAAwcBAQcBAQcBAf9SAAwAAAABAQAEBAAB',
    '/1wABEBA/2QAJQABQ3JlYXRlZCBieSBPcGVuSlBFRyB2ZXJzaW9uIDIuNS4w/5AACgAAAAACDAAB/5PPtEwRUFSv/3qqk5gAAAAA',
    'AMJCX/9/34XmnXgDyv9/c/QAADCQlqQ+fIC5VbCOuZe+Xd61KTnOc5znOc5znQMBr5mZmZmZmZmZmZmZmZmZmZmZmZmZmZzrmpAA',
    'AAAloHAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAVdphyun+uo4AAYSEv+Y9IAAGEhJF3wGEhLSLQAGEhLQBMAGEh',
    'LzcPuqce/KTbbbbQNqUnOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5zoSIRJJJJJJJJI7pFAAAAAAAAAA',
    'AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAf34XeFABcr1TU5B5aK3xykgAAYSEuENMnCfMzMzMzMzMzMzMzMzMzMzMzMzMzMy/6',
    'ty7vWpSc5znOc5znOc52x3/AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAkAIAAAAEYmH8CwAAAAwkJf/c28gAAwk',
    'JZu5AAwkJaAJgAwkJaAJgAwkJUOjF4JiUnOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5znOc5wKCg25JJJJJIr',
    'uAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAALknJJJJJJJJH/2Q==',
  ].join(''),
)

describe('the codings of images', () => {
  const black = async (write: (pdf: PdfText) => string, size: readonly [number, number]) =>
    (await inSquares(write, size)).ink('Black')
  const bits = Array.from({ length: 40 * 24 }, (_, i) => (noise[i >> 3]! >> (7 - (i & 7))) & 1)

  it.each([
    ['group 4', group4, '/K -1'],
    ['group 3', group3, '/K 0 /EndOfLine true'],
  ])('CCITT of %s', async (_, data, parameters) => {
    const one = (more: string) => (pdf: PdfText) =>
      image(
        pdf,
        `/Width 40 /Height 24 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /CCITTFaxDecode /DecodeParms << /Columns 40 /Rows 24 ${parameters} ${more} >>`,
        data,
      )
    expect(await black(one(''), [40, 24])).toEqual(bits)
    expect(await black(one('/BlackIs1 true'), [40, 24])).toEqual(bits.map(bit => 1 - bit))
  })

  it('CCITT that is cut keeps the rows that are there', async () => {
    const { ink, shape, reading } = await inSquares(
      pdf =>
        image(
          pdf,
          '/Width 40 /Height 24 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /CCITTFaxDecode /DecodeParms << /Columns 40 /K -1 >>',
          group4.subarray(0, 10),
        ),
      [40, 24],
    )
    const there = shape.filter(share => share === 1).length
    expect(there).toBeGreaterThanOrEqual(40)
    expect(there).toBeLessThan(40 * 20)
    // The row that the cut goes through may be wrong.
    expect(ink('Black').slice(0, there - 40)).toEqual(bits.slice(0, there - 40))
    expect(new Set(shape.slice(there))).toEqual(new Set([0]))
    expect(reading.findings).toMatchObject([{ code: 'pdf-image-cut' }])
  })

  it('JBIG2, by arithmetic and as group 4', async () => {
    const ink = await black(
      pdf =>
        image(
          pdf,
          '/Width 64 /Height 56 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /JBIG2Decode',
          jbig2,
        ),
      [64, 56],
    )
    const rows = Array.from({ length: 56 }, (_, y) => ink.slice(64 * y, 64 * y + 64).join(''))
    // The region is a frame: nothing beyond it, its outline solid.
    expect(rows.slice(0, 11).every(row => !row.includes('1'))).toBe(true)
    expect(rows[11]).toBe(`${'0'.repeat(4)}${'1'.repeat(54)}${'0'.repeat(6)}`)
    expect(rows.slice(11, 55).every(row => row[4] === '1' && row[57] === '1')).toBe(true)
    // A region that is packed as group 4: region of 40 × 24 at (0, 0), flag MMR.
    const mmr = [
      ...hex('00000000300001000000130000002800000018000000000000000001000000000001270001000000'),
      18 + group4.length,
      ...hex('000000280000001800000000000000000001'),
      ...group4,
    ]
    const packed = await black(
      pdf =>
        image(
          pdf,
          `/Width 40 /Height 24 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /JBIG2Decode`,
          mmr,
        ),
      [40, 24],
    )
    expect(packed).toEqual(bits)
  })

  it('JPEG 2000, with and without a colour space beside it', async () => {
    const reading = await readingOf(() => '')
    const want = (y: number) =>
      reading.separator.cmyk({ space: 'RGB', profile: null }, Float32Array.of(1 - y / 15, 0, y / 15)).slice()
    for (const space of ['', '/ColorSpace /DeviceRGB']) {
      const { ink } = await inSquares(
        pdf => image(pdf, `/Width 24 /Height 16 ${space} /Filter /JPXDecode`, jp2),
        [24, 16],
      )
      for (const y of [0, 5, 15])
        for (const [i, name] of ['Cyan', 'Magenta', 'Yellow', 'Black'].entries())
          expect(Math.abs(ink(name)[24 * y + 7]! - want(y)[i]!)).toBeLessThanOrEqual(1 / 255)
    }
  })

  it('Flate with a prediction', async () => {
    // Rows of PNG's kind 2: each adds to the one above.
    const { ink } = await inSquares(
      pdf =>
        image(
          pdf,
          `/Width 2 /Height 2 /BitsPerComponent 8 /ColorSpace ${white} /Filter /FlateDecode /DecodeParms << /Predictor 15 /Columns 2 >>`,
          deflate(Uint8Array.of(2, 51, 102, 2, 51, 51)),
        ),
      [2, 2],
    )
    expect(ink('White')).toEqual([0.2, 0.4, 0.4, 0.6])
  })
})

describe('images that are anything', () => {
  const filters = [
    ['/DCTDecode', Uint8Array.of(0xff, 0xd8, 0xff, 0xc0, 0, 11, 8, 0, 2, 0, 2, 1, 1, 0x11, 0, 0xff, 0xda)],
    ['/JPXDecode', jp2],
    ['/CCITTFaxDecode /DecodeParms << /K -1 /Columns 40 >>', group4],
    ['/CCITTFaxDecode /DecodeParms << /K 4 /Columns 40 /EncodedByteAlign true >>', group3],
    ['/JBIG2Decode', jbig2],
    ['/FlateDecode /DecodeParms << /Predictor 12 /Columns 40 >>', deflate(noise)],
  ] as const

  it('are amounts of 0 to 1, or told', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom(...filters),
        fc.array(fc.tuple(fc.nat(), fc.nat(255)), { maxLength: 8 }),
        fc.nat(),
        async ([filter, data], changes, cut) => {
          const bytes = data.slice(
            0,
            changes.length === 0 ? data.length : Math.max(1, cut % (2 * data.length)),
          )
          for (const [at, value] of changes) bytes[at % bytes.length] = value
          const { field, names, reading } = await opened(
            pdf =>
              image(
                pdf,
                `/Width 40 /Height 24 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter ${filter}`,
                bytes,
              ),
            [40, 0, 0, 24, 0, 0],
          )
          const { planes, shape } = seen(field, names, [0, 0, 40, 24], 10)
          for (const value of [...shape, ...[...planes.values()].flatMap(plane => [...plane])])
            expect(value >= 0 && value <= 1).toBe(true)
          if (field.inks.length === 0) expect(reading.findings.length).toBeGreaterThan(0)
        },
      ),
      { numRuns: 120 },
    )
  })
})

describe('against the separation renderer', () => {
  const cells: readonly (readonly [string, (pdf: PdfText) => string, Matrix])[] = [
    [
      'group 4',
      pdf =>
        image(
          pdf,
          '/Width 40 /Height 24 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /CCITTFaxDecode /DecodeParms << /Columns 40 /K -1 >>',
          group4,
        ),
      [40, 0, 0, 24, 5, 5],
    ],
    [
      'JBIG2',
      pdf =>
        image(
          pdf,
          '/Width 64 /Height 56 /BitsPerComponent 1 /ColorSpace /DeviceGray /Filter /JBIG2Decode',
          jbig2,
        ),
      [32, 0, 0, 28, 50, 5],
    ],
    [
      'JPEG 2000',
      pdf => image(pdf, '/Width 24 /Height 16 /Filter /JPXDecode /ColorSpace /DeviceRGB', jp2),
      [48, 0, 0, 32, 90, 5],
    ],
    [
      'finer than squares',
      pdf =>
        image(
          pdf,
          `/Width 64 /Height 64 /BitsPerComponent 8 /ColorSpace ${white}`,
          Array.from({ length: 4096 }, (_, i) => (i * 37 + (i >> 6) * 11) % 256),
        ),
      [16, 0, 0, 16, 145, 5],
    ],
    [
      'indexed',
      pdf =>
        image(
          pdf,
          `/Width 8 /Height 4 /BitsPerComponent 4 /ColorSpace [/Indexed ${duo(pdf)} 15 <${Array.from({ length: 16 }, (_, i) => (i * 17).toString(16).padStart(2, '0') + (255 - i * 13).toString(16).padStart(2, '0')).join('')}>]`,
          Array.from({ length: 16 }, (_, i) => i * 15),
        ),
      [40, 0, 0, 20, 5, 50],
    ],
    [
      'upside down',
      pdf =>
        image(
          pdf,
          `/Width 3 /Height 5 /BitsPerComponent 8 /ColorSpace ${duo(pdf)}`,
          Array.from({ length: 30 }, (_, i) => (i * 53) % 256),
        ),
      [30, 0, 0, -40, 50, 95],
    ],
    [
      'a quarter turn',
      pdf =>
        image(
          pdf,
          `/Width 6 /Height 4 /BitsPerComponent 8 /ColorSpace /DeviceCMYK`,
          Array.from({ length: 96 }, (_, i) => (i * 29) % 256),
        ),
      [0, 36, -24, 0, 120, 50],
    ],
    [
      // Another range would do for us, but the renderer leaves it out for images.
      'Lab',
      pdf =>
        image(
          pdf,
          '/Width 4 /Height 4 /BitsPerComponent 8 /ColorSpace [/Lab << /WhitePoint [0.9642 1 0.8249] /Range [-128 127 -128 127] >>]',
          Array.from({ length: 48 }, (_, i) => (60 + i * 41) % 200),
        ),
      [32, 0, 0, 32, 130, 50],
    ],
  ]

  it.skipIf(!hasTiffsep)('every coding and kind is within 2 of 255 away from edges (gs)', async () => {
    const ppi = 144
    const bytes = onePage(pdf => ({
      resources: `/XObject << ${cells.map(([, write], i) => `/I${i} ${write(pdf)}`).join(' ')} >>`,
      content: cells.map(([, , matrix], i) => `q ${matrix.join(' ')} cm /I${i} Do Q`).join('\n'),
    }))
    const { width, height, planes } = tiffsep(bytes, ppi)
    const step = 25.4 / ppi
    for (const [name, write, matrix] of cells) {
      const [a, b, c, d, e, f] = matrix
      const { field, names } = await opened(write, [a * mm, b * mm, c * mm, d * mm, e * mm, f * mm])
      const [x0, y0] = [e + Math.min(0, a, c), f + Math.min(0, b, d)]
      const [left, bottom] = [x0 * 2 + 1, y0 * 2 + 1]
      const [right, top] = [(x0 + Math.abs(a + c)) * 2 - 1, (y0 + Math.abs(b + d)) * 2 - 1]
      const ours = seen(field, names, [left * step, bottom * step, right * step, top * step], right - left)
      let [sum, count, worst] = [0, 0, 0]
      for (const [ink, plane] of ours.planes) {
        const other = planes.get(ink)
        for (let y = 0; y < ours.rows; y++)
          for (let x = 0; x < right - left; x++) {
            const value = (other?.[(height - top + y) * width + left + x] ?? 0) as number
            const difference = Math.abs(plane[y * (right - left) + x]! * 255 - value)
            sum += difference
            count++
            worst = Math.max(worst, difference)
          }
      }
      expect(worst, `${name}: mean ${(sum / count).toFixed(3)}`).toBeLessThanOrEqual(2)
    }
  })
})
