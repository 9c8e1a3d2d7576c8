import { expect, test } from 'vitest'
import { frameOf } from '../../../../core/art/pdf/boxes.ts'
import { openPdf } from '../../../../core/art/pdf/document.ts'
import { intentOf } from '../../../../core/art/pdf/intent.ts'
import { PdfLayers } from '../../../../core/art/pdf/layers.ts'
import { BadInput, type Finding } from '../../../../core/base/finding.ts'
import { type PDFDict, PDFDocument } from '../../../../core/base/pdf.ts'
import { memorySource } from '../../../../core/base/source.ts'
import { type SmallPdf, smallPdf, smallSource } from './small-pdf.ts'

const open = (pdf: SmallPdf) => openPdf(smallSource(pdf), null)

async function reason(work: Promise<unknown>): Promise<string> {
  try {
    await work
  } catch (error) {
    if (error instanceof BadInput) return error.code
    throw error
  }
  return 'none'
}

async function frame(page: string) {
  const file = await open({ page })
  const findings: Finding[] = []
  const first = file.pages[0]
  if (first === undefined) throw new Error('no page')
  return { ...frameOf('small.pdf', 1, first, findings), findings }
}

// One unit is 1/72 inch = 25.4/72 mm (ISO 32000-2, 8.3.2.3).
const mm = (units: number) => (units * 25.4) / 72

test('the box that is read is the bleed box, else the trim box, else the media box', async () => {
  const all = '/MediaBox [0 0 720 360] /BleedBox [10 20 700 350] /TrimBox [20 30 690 340]'
  const bleed = await frame(all)
  expect(bleed.widthMm).toBeCloseTo(mm(690), 9)
  expect(bleed.heightMm).toBeCloseTo(mm(330), 9)
  expect(bleed.boxes.trim?.map(value => value / mm(1))).toEqual(
    [10, 10, 680, 320].map(v => expect.closeTo(v, 9)),
  )
  expect(bleed.boxes.media[0]).toBeCloseTo(mm(-10), 9)
  const trim = await frame('/MediaBox [0 0 720 360] /TrimBox [690 340 20 30]')
  expect(trim.widthMm).toBeCloseTo(mm(670), 9)
  expect((await frame('')).widthMm).toBeCloseTo(254, 9)
})

test('a page is turned clockwise by Rotate, and its unit may be larger', async () => {
  const turned = await frame('/MediaBox [0 0 720 360] /Rotate 90 /UserUnit 2')
  expect([turned.widthMm, turned.heightMm]).toEqual([expect.closeTo(254, 9), expect.closeTo(508, 9)])
  const [a, b, c, d, e, f] = turned.matrix
  const at = (x: number, y: number) => [a * x + c * y + e, b * x + d * y + f]
  // Its upper left corner becomes the upper right one.
  expect(at(0, 360)).toEqual([expect.closeTo(254, 9), expect.closeTo(508, 9)])
  expect(at(0, 0)).toEqual([expect.closeTo(0, 9), expect.closeTo(508, 9)])
})

test('a page 14 m wide is a page', async () => {
  // 14 400 units are the most that readers of ISO 32000-1 hold (annex C); UserUnit makes them larger.
  const wide = await frame(`/MediaBox [0 0 14400 720] /UserUnit ${14000 / mm(14400)}`)
  expect(wide.widthMm).toBeCloseTo(14000, 6)
})

test('boxes without area are passed over, a page without area is refused', async () => {
  const empty = await frame('/MediaBox [0 0 720 360] /BleedBox [5 5 5 300] /TrimBox [800 0 900 100]')
  expect(empty.findings.map(finding => finding.code)).toEqual(['page-box-empty', 'page-box-empty'])
  expect(empty.widthMm).toBeCloseTo(254, 9)
  expect(await reason(frame('/MediaBox [0 0 0 360]'))).toBe('page-no-area')
  expect(await reason(frame('/MediaBox [0 0 /No 360]'))).toBe('page-no-area')
})

test('layers have names, state, steps and nesting, and ids that tell repeats apart', async () => {
  const group = (name: string, more = '') => `<< /Type /OCG /Name (${name}) ${more} >>`
  const file = await open({
    catalog:
      '/OCProperties << /OCGs [10 0 R 11 0 R 12 0 R 13 0 R] /D << /OFF [11 0 R] /Order [10 0 R [11 0 R [12 0 R]] 13 0 R] >> >>',
    objects: {
      10: group('Art'),
      11: group('Comet', '/Usage << /Print << /PrintState /OFF >> >>'),
      12: group('Comet'),
      13: group('Die', '/GTS_Metadata << /GTS_ProcStepsGroup /Structural /GTS_ProcStepsType /Cutting >>'),
    },
  })
  const layers = new PdfLayers(file.catalog)
  const dict = (number: number) =>
    file.context.enumerateIndirectObjects().find(([ref]) => ref.objectNumber === number)?.[1] as PDFDict
  // Painted: the die, then art within the first comet.
  layers.numberOf([dict(13)])
  layers.numberOf([dict(10), dict(11)])
  const settled = layers.settle()
  expect(settled.map(layer => layer.id)).toEqual(['layer:Die', 'layer:Comet', 'layer:Comet#2', 'layer:Art'])
  expect(settled.map(layer => layer.parent)).toEqual([null, 3, 1, null])
  expect(settled[0]).toMatchObject({
    visible: true,
    prints: true,
    step: { group: 'Structural', type: 'Cutting' },
  })
  expect(settled[1]).toMatchObject({ visible: false, prints: false, step: null })
  expect(layers.numberOf([dict(10)])).toBe(3)
  expect(layers.numberOf([])).toBe(null)
})

test('what needs several layers to be shown has a layer of its own', async () => {
  const file = await open({
    catalog: '/OCProperties << /OCGs [10 0 R 11 0 R] /D << /OFF [11 0 R] >> >>',
    objects: {
      10: '<< /Type /OCG /Name (White) >>',
      11: '<< /Type /OCG /Name (Foil) >>',
      12: '<< /Type /OCMD /OCGs [10 0 R 11 0 R] /P /AllOn >>',
      13: '<< /Type /OCMD /VE [/And 10 0 R [/Not 11 0 R]] >>',
      14: '<< /Type /OCMD /OCGs 11 0 R >>',
    },
  })
  const dict = (number: number) =>
    file.context.enumerateIndirectObjects().find(([ref]) => ref.objectNumber === number)?.[1] as PDFDict
  const layers = new PdfLayers(file.catalog)
  for (const number of [12, 13, 14]) layers.numberOf([dict(number)])
  layers.numberOf([dict(10), dict(11)])
  const settled = layers.settle()
  const shown = new Map(settled.map(layer => [layer.name, layer.visible]))
  expect(shown.get('White & Foil')).toBe(false)
  expect(shown.get('White | Foil')).toBe(true)
  expect(layers.numberOf([dict(14)])).toBe(settled.findIndex(layer => layer.name === 'Foil'))
})

test('the output intent for printing comes first, with its profile', async () => {
  const file = await open({
    catalog: '/OutputIntents [<< /S /GTS_PDFA1 /OutputConditionIdentifier (sRGB) >> 10 0 R]',
    objects: {
      10: '<< /S /GTS_PDFX /OutputConditionIdentifier (FOGRA39) /DestOutputProfile 11 0 R >>',
      11: ['/N 4', 'profile'],
    },
  })
  const intent = intentOf(file, file.catalog, [])
  expect(intent?.name).toBe('FOGRA39')
  expect(new TextDecoder().decode(intent?.profile ?? new Uint8Array(0))).toBe('profile')
})

test('files that are none, cut or damaged are named', async () => {
  const whole = smallPdf({ content: 'q Q' })
  const read = (bytes: Uint8Array) => reason(openPdf(memorySource('small.pdf', bytes), null))
  expect(await read(whole)).toBe('none')
  expect(await read(new TextEncoder().encode('<svg/>'))).toBe('not-pdf')
  for (const share of [0.2, 0.5, 0.8])
    expect(await read(whole.slice(0, whole.length * share))).toBe('pdf-cut')
  // Laid out for the web: a table of objects lies at its beginning too, so only the stated length tells that it is cut.
  const web = new TextEncoder().encode(
    `%PDF-1.7\n9 0 obj << /Linearized 1 /L ${whole.length + 400} >> endobj\nstartxref\n0\n%%EOF\n`,
  )
  expect(await read(Uint8Array.of(...web, ...whole))).toBe('pdf-cut')
  const lost = new TextDecoder('latin1').decode(whole).replace('/Pages 2 0 R', '/Pages 7 0 R')
  expect(await read(new TextEncoder().encode(lost))).toBe('pdf-damaged')
  expect(await reason(open({ objects: { 2: '<< /Type /Pages /Kids [] >>' } }))).toBe('pdf-no-pages')
})

test('a ring of pages ends, and a table of a thousand million objects is refused', async () => {
  const ring = await open({ objects: { 2: '<< /Type /Pages /Kids [2 0 R 3 0 R 3 0 R 2 0 R] >>' } })
  expect(ring.pages.length).toBe(1)
  const table = ['/Type /XRef /Size 5 /W [1 1 1] /Index [0 1000000000]', 'abc'] as const
  expect(await reason(open({ objects: { 20: table } }))).toBe('pdf-too-large')
})

test.each(['AES-256', 'AES-128', 'RC4-128'] as const)(
  '%s: a password is asked for, told to be wrong, and opens',
  async algorithm => {
    const document = await PDFDocument.create()
    document.addPage([200, 100])
    document.encrypt({ userPassword: 'comet', ownerPassword: 'tail', algorithm, allowWeakCryptography: true })
    const source = memorySource('locked.pdf', await document.save())
    expect(await reason(openPdf(source, null))).toBe('password-needed')
    expect(await reason(openPdf(source, 'lens'))).toBe('password-wrong')
    const file = await openPdf(source, 'comet')
    expect(file.pages.length).toBe(1)
    expect(file.encryptedBy).toMatch(
      algorithm.startsWith('AES') ? /^AES, (128|256) bits$/ : /^RC4, 128 bits$/,
    )
    expect((await openPdf(source, 'tail')).pages.length).toBe(1)
  },
)

test('a file that only its owner may change opens without a password; another handler is named', async () => {
  const document = await PDFDocument.create()
  document.addPage([200, 100])
  document.encrypt({ userPassword: '', ownerPassword: 'tail' })
  const file = await openPdf(memorySource('open.pdf', await document.save()), null)
  expect([file.pages.length, file.encryptedBy]).toEqual([1, 'AES, 256 bits'])
  const odd = await PDFDocument.create()
  odd.addPage()
  odd.context.trailerInfo.Encrypt = odd.context.obj({ Filter: 'Halden', V: 4 })
  odd.context.trailerInfo.ID = odd.context.obj([new Uint8Array(16), new Uint8Array(16)] as never)
  expect(await reason(openPdf(memorySource('odd.pdf', await odd.save()), null))).toBe(
    'pdf-encryption-unknown',
  )
})
