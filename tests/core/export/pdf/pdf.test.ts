import { describe, expect, test } from 'vitest'
import { PDFDocument } from '../../../../core/base/pdf.ts'
import { makePdf } from '../../../../core/export/pdf/document.ts'
import { Faces } from '../../../../core/export/pdf/faces.ts'
import { type Flow, type SheetPicture, styles } from '../../../../core/export/pdf/flow.ts'
import { pictureGrid } from '../../../../core/export/pdf/picture-grid.ts'
import { table } from '../../../../core/export/pdf/table.ts'
import { wrapped } from '../../../../core/export/pdf/wrap.ts'
import { askPoppler, pageTexts } from '../../../support/pdf-text.ts'
import { hasTool } from '../../../support/tools.ts'

const words = {
  title: 'Comet – sheet',
  subject: 'a test',
  producer: 'rakelight 1',
  madeAt: '2026-03-04T09:30:00Z',
  foot: 'comet.job.json',
}
const made = (draw: (flow: Flow) => void) => makePdf(words, draw)
const poppler = hasTool('pdftotext', '-v') && hasTool('pdfinfo', '-v') && hasTool('pdffonts', '-v')

const picture: SheetPicture = {
  width: 7,
  height: 5,
  rgb: Uint8Array.from({ length: 105 }, (_, i) => (i * 53) % 256),
}

describe('lines', () => {
  const width = (piece: string) => [...piece].length
  test('no line is wider than asked, and none of the words is lost', () => {
    for (const text of [
      'a b c',
      'one-longword-that/goes_on.and-on',
      'x'.repeat(1000),
      '  many   blanks  ',
      '',
    ]) {
      const lines = wrapped(text, 10, width)
      expect(Math.max(...lines.map(width))).toBeLessThanOrEqual(10)
      expect(lines.join('').replaceAll(' ', '')).toBe(text.replaceAll(' ', ''))
    }
  })

  test('names break where their parts end', () => {
    expect(wrapped('folder/carton.psd', 10, width)).toEqual(['folder/', 'carton.psd'])
  })

  test('a hundred thousand signs without a blank are set in good time', () => {
    const before = performance.now()
    expect(wrapped('x'.repeat(1e5), 100, width).length).toBe(1e3)
    expect(performance.now() - before).toBeLessThan(20_000)
  })
})

describe('letters', () => {
  test('what the fonts lack is shown by its base letter or its number, and told', async () => {
    const faces = await Faces.open(await PDFDocument.create())
    expect(faces.settable('Žluťoučký kůň', 'regular')).toBe('Žlutoucký kun')
    expect(faces.settable('彗星\u202e\u0000', 'regular')).toBe('[5F57][661F][202E][0000]')
    expect(faces.settable('a\tb\nc', 'regular')).toBe('a b c')
    // Greek and mathematics come from the font of symbols, and look-alikes need no telling.
    expect(faces.settable('ΔE ≤ 3 −1', 'bold')).toBe('ΔE ≤ 3 –1')
    expect([...faces.substitutes.keys()]).toEqual(['ť', 'č', 'ů', 'ň', '彗', '星', '\u202e', '\u0000'])
  })

  test('every sign of a text is in one of its runs, which are as wide as the text', async () => {
    const faces = await Faces.open(await PDFDocument.create())
    const text = faces.settable('ΔE of “white” ≤ 3', 'regular')
    const runs = faces.runs(text, 'regular')
    expect(runs.map(({ font }) => font)).toEqual(['symbol', 'regular', 'symbol', 'regular'])
    const sum = runs.reduce((whole, run) => whole + run.width, 0)
    expect(faces.width(text, 'regular', 10)).toBeCloseTo(10 * sum, 9)
    // Widths of Helvetica: 'E' is 667 thousandths (Adobe Core 14 AFM files).
    expect(faces.width('E', 'regular', 1000)).toBeCloseTo(667, 6)
  })
})

describe('a document', () => {
  const rows = Array.from({ length: 120 }, (_, i) => [`row ${i}`, i === 60 ? 'word '.repeat(3000) : 'says'])
  const long = (flow: Flow) =>
    table(
      flow,
      [
        { head: 'Left head', part: 1 },
        { head: 'Right head', part: 3 },
      ],
      rows,
    )

  test('the same input gives the same bytes', async () => {
    const draw = (flow: Flow) => {
      long(flow)
      pictureGrid(flow, [{ picture, title: 'a', says: 'b' }], 2)
    }
    expect(await made(draw)).toEqual(await made(draw))
  })

  test.skipIf(!poppler)(
    'poppler has every row once, the head on every page, and the pages numbered',
    async () => {
      const texts = pageTexts(await made(long))
      expect(texts.length).toBeGreaterThan(3)
      for (const [i, text] of texts.entries()) {
        expect(text).toContain('Left head')
        expect(text).toContain(`Page ${i + 1} of ${texts.length}`)
        expect(text).toContain('comet.job.json')
      }
      const all = texts.join(' ')
      for (let i = 0; i < 120; i++) expect(all.match(new RegExp(`row ${i}\\b`, 'g'))).toHaveLength(1)
      expect(all.match(/word/g)).toHaveLength(3000)
    },
  )

  test.skipIf(!poppler)('poppler has title, A4, fonts and the picture as it is', async () => {
    const bytes = await made(flow => {
      flow.heading('Lens rings')
      flow.paragraph('ΔE ≤ 3 µm', styles.body)
      pictureGrid(flow, [{ picture, title: 'Worst glare', says: 'held straight on' }], 3)
    })
    const info = askPoppler('pdfinfo', bytes)
    expect(info).toMatch(/Title: +Comet – sheet/)
    expect(info).toMatch(/Page size: +595.276 x 841.89 pts \(A4\)/)
    expect(info).toMatch(/Pages: +1/)
    expect(askPoppler('pdffonts', bytes)).toContain('Helvetica-Bold')
    // The reader takes the font's Delta for the sign of mathematics.
    const text = pageTexts(bytes)[0]!.replace('∆', 'Δ')
    for (const part of ['Lens rings', 'ΔE ≤ 3 µm', 'Worst glare', 'held straight on'])
      expect(text).toContain(part)
    const images = askPoppler('pdfimages', bytes, '-list')
    expect(images).toMatch(/image +7 +5 +icc +3 +8/)
  })
})
