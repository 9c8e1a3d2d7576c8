import { expect, test } from 'vitest'
import { pagesOf, readInkPage } from '../../../../core/art/pdf/read-page.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { PDFDocument } from '../../../../core/base/pdf.ts'
import { memorySource } from '../../../../core/base/source.ts'
import { pageData } from '../../../support/page-data.ts'
import { shippedCondition } from '../../../support/pdf-reading.ts'
import { smallPdf, smallSource } from './small-pdf.ts'

test('a page has its inks, marks, type, layers and print condition', async () => {
  const source = smallSource({
    content: `/OC /L BDC /White cs 1 scn 0 0 72 72 re f EMC
      0 0 0 1 k BT /F 12 Tf 10 20 Td (Comet) Tj ET`,
    resources: `/Properties << /L 10 0 R >> /Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >>
      /ColorSpace << /White [/Separation /White /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0.1 0 0 0] /N 1 >>] >>`,
    page: '/MediaBox [0 0 720 360] /TrimBox [0 0 72 72]',
    catalog: '/OCProperties << /OCGs [10 0 R] /D << >> >> /OutputIntents [12 0 R]',
    objects: {
      10: '<< /Type /OCG /Name (White) /GTS_Metadata << /GTS_ProcStepsGroup /White >> >>',
      11: ['/N 4', shippedCondition],
      12: '<< /S /GTS_PDFX /OutputConditionIdentifier (FOGRA39) /DestOutputProfile 11 0 R >>',
    },
  })
  const page = await readInkPage(source, {}, pageData)
  expect([page.widthMm, page.heightMm]).toEqual([expect.closeTo(25.4, 9), expect.closeTo(25.4, 9)])
  expect(page.inks.map(ink => ink.name)).toEqual(['Cyan', 'Magenta', 'Yellow', 'Black', 'White'])
  expect(page.inks[4]?.alternate).toEqual({ space: 'CMYK', values: [0.1, 0, 0, 0] })
  expect(page.layers).toMatchObject([{ name: 'White', step: { group: 'White', type: null } }])
  expect(page.fonts).toEqual([{ name: 'Helvetica', embedded: false }])
  expect(page.outputIntent?.name).toBe('FOGRA39')
  const [white, type] = page.marks
  expect(white?.layer).toBe(0)
  expect(type?.kind === 'fill' && type.text).toMatchObject({ value: 'Comet', fontName: 'Helvetica' })
  expect(page.inexact).toEqual([])
})

// ISO 32000-2, 8.6.7: in mode 1 components of DeviceCMYK that are 0 leave the ink below; in mode 0 they knock it out.
test('objects of no ink that overprint in mode 1 are said to vanish, layer by layer', async () => {
  const bare = '0 0 0 0 k 10 10 20 20 re f'
  const source = smallSource({
    content: `1 0 0 0 k 0 0 72 72 re f /OC /L BDC /One gs ${bare} ${bare} /Zero gs ${bare} EMC /One gs 0.2 0 0 0 k 0 0 9 9 re f ${bare}`,
    resources:
      '/Properties << /L 10 0 R >> /ExtGState << /One << /OP true /op true /OPM 1 >> /Zero << /OP true /op true /OPM 0 >> >>',
    catalog: '/OCProperties << /OCGs [10 0 R] /D << >> >>',
    objects: { 10: '<< /Type /OCG /Name (Stars) >>' },
  })
  const { findings, marks } = await readInkPage(source, {}, pageData)
  expect(findings.map(({ code, where, message }) => [code, where, message.slice(0, 25)])).toEqual([
    ['white-overprints', 'layer "Stars"', '2 objects have no ink and'],
    ['white-overprints', 'the page', 'an object has no ink and '],
  ])
  expect(marks).toHaveLength(3)
})

// ISO 32000-2, 9.3.8.
test('type of one text object that is not opaque is one object where glyphs may touch, unless it says otherwise', async () => {
  const kinds = async (before: string, apart: string) => {
    const source = smallSource({
      content: `${before} BT /F 12 Tf 10 20 Td (a) Tj ${apart} Td (b) Tj ET`,
      resources:
        '/Font << /F << /Type /Font /Subtype /Type1 /BaseFont /Helvetica >> >> /ExtGState << /H << /ca 0.5 >> /T << /TK false /ca 0.5 >> >>',
    })
    return (await readInkPage(source, {}, pageData)).marks.map(({ kind }) => kind)
  }
  expect(await kinds('', '1 0')).toEqual(['fill', 'fill'])
  expect(await kinds('/H gs', '1 0')).toEqual(['group'])
  expect(await kinds('/H gs', '0 30')).toEqual(['fill', 'fill'])
  expect(await kinds('/T gs', '1 0')).toEqual(['fill', 'fill'])
})

// Flags: ISO 32000-2, table 167: 2 hidden, 4 to be printed, 32 not on a screen.
test('notes and stamps over a page are left out and named, those that are set to be printed apart', async () => {
  const over = (kind: string, flags: number, more = '/AP << /N 20 0 R >>') =>
    `<< /Type /Annot /Subtype /${kind} /Rect [10 10 90 90] /F ${flags} ${more} >>`
  const source = smallSource({
    content: '1 0 0 0 k 0 0 720 360 re f',
    page: `/Annots [${[
      ...[over('Stamp', 4), over('Square', 4), over('Circle', 36), over('Text', 0), over('Watermark', 4)],
      // None of these is seen: hidden, on no screen nor in print, without a picture, a link.
      ...[over('Stamp', 6), over('Text', 32), over('Text', 4, ''), over('Link', 4)],
    ].join(' ')}]`,
    objects: {
      20: ['/Type /XObject /Subtype /Form /BBox [0 0 80 80]', '0 1 0 0 k 0 0 80 80 re f'],
    },
  })
  const page = await readInkPage(source, {}, pageData)
  expect(page.marks).toHaveLength(1)
  expect(page.findings).toMatchObject([
    { code: 'annotations-set-to-print', severity: 'warning', where: 'page 1' },
    { code: 'annotations-not-read', severity: 'note', where: 'page 1' },
  ])
  expect(page.findings[0]!.message).toMatch(
    /^1 stamp, 2 drawn comments and 1 watermark over the page are set/,
  )
  expect(page.findings[1]!.message).toMatch(/^1 note over the page is left out; it is not set/)
})

test('pages are counted and measured before one is chosen; one that is not there is refused', async () => {
  const document = await PDFDocument.create()
  document.addPage([72, 144])
  document.addPage([144, 72])
  document.encrypt({ userPassword: 'comet', ownerPassword: 'tail' })
  const source = memorySource('two.pdf', await document.save())
  const { pages, encryptedBy } = await pagesOf(source, 'comet')
  expect(pages).toEqual([
    { widthMm: expect.closeTo(25.4, 9), heightMm: expect.closeTo(50.8, 9) },
    { widthMm: expect.closeTo(50.8, 9), heightMm: expect.closeTo(25.4, 9) },
  ])
  expect(encryptedBy).toBe('AES, 256 bits')
  const code = (work: Promise<unknown>) =>
    work.then(
      () => 'none',
      (error: unknown) => (error instanceof BadInput ? error.code : String(error)),
    )
  expect(await code(pagesOf(source))).toBe('password-needed')
  expect(await code(readInkPage(source, { page: 3, password: 'comet' }, pageData))).toBe('page-missing')
  expect(await code(readInkPage(source, { page: 2, password: 'comet' }, pageData))).toBe('none')
})

test('400 inks are refused by name', async () => {
  const names = Array.from({ length: 400 }, (_, at) => `Ink${at}`)
  const spaces = names.map(
    name =>
      `/${name} [/Separation /${name} /DeviceCMYK << /FunctionType 2 /Domain [0 1] /C0 [0 0 0 0] /C1 [0 1 0 0] /N 1 >>]`,
  )
  const pdf = smallPdf({
    content: names.map(name => `/${name} cs 1 scn 0 0 1 1 re f`).join('\n'),
    resources: `/ColorSpace << ${spaces.join('\n')} >>`,
  })
  await expect(readInkPage(memorySource('inks.pdf', pdf), {}, pageData)).rejects.toMatchObject({
    code: 'too-many-inks',
  })
})
