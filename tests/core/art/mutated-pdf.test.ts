import { expect, test } from 'vitest'
import { paintPage } from '../../../core/art/ink/raster.ts'
import { readInkPage } from '../../../core/art/pdf/read-page.ts'
import { memorySource } from '../../../core/base/source.ts'
import { cutOff } from '../../support/alone.ts'
import { pageData } from '../../support/page-data.ts'
import { pdfPageNames, pdfPages } from '../../support/pdf-pages.ts'
import { surviveAll } from '../../support/survive.ts'
import { doublingForms, hostilePages } from './hostile-pages.ts'

/** Reads the first page and paints it small. */
async function readWhole(bytes: Uint8Array): Promise<void> {
  const page = await readInkPage(memorySource('art.pdf', bytes), {}, pageData)
  const scale = 64 / Math.max(page.widthMm, page.heightMm)
  const pixels = (mm: number): number => Math.max(1, Math.round(mm * scale))
  await paintPage(page, { widthPx: pixels(page.widthMm), heightPx: pixels(page.heightMm) })
}

const words = [
  '<<',
  '>>',
  '[',
  ']',
  'endstream',
  'endobj',
  '/Filter /FlateDecode',
  '/Length 0',
  '1 0 R',
  '3 0 R',
  '4 0 R',
  '5 0 R',
  ' q ',
  ' Q ',
  ' BT ',
  ' ET ',
  ' Do ',
  ' cm ',
  ' W n ',
  ' /Pattern cs ',
  ' 0 0 0 0 0 0 cm ',
  ' 1e30 0 0 1e30 0 0 cm ',
  '(',
  ')',
  '%',
  '/OC /X BDC',
  'stream\n',
  '/Type /Catalog',
  '/S /JavaScript /JS (app.alert(1))',
]

test('400 damaged pages are read or refused by name, soon, within bounds, and reach for nothing', async () => {
  const seeds = [
    ...pdfPageNames.map(name => pdfPages[name]()),
    ...Object.values(hostilePages).map(make => make()),
  ]
  const tried = cutOff()
  const { read, refused, longest, grown } = await surviveAll('art.pdf', seeds, 400, words, readWhole)
  console.log(
    `PDF: ${read} read, refused: ${JSON.stringify(Object.fromEntries(refused))}, longest ${Math.round(longest)} ms, ${Math.round(grown / 1e6)} MB`,
  )
  expect(tried()).toBe(0)
  expect(read).toBeGreaterThan(100)
  expect([...refused.values()].reduce((sum, one) => sum + one, 0)).toBeGreaterThan(20)
  expect(longest).toBeLessThan(15_000)
  expect(grown).toBeLessThan(1.5e9)
})

test('what tries to run, to fetch or to open is left alone, and the art beside it is read', async () => {
  const tried = cutOff()
  const found = await Promise.all(
    Object.entries(hostilePages).map(async ([name, make]) => {
      const { marks, findings } = await readInkPage(memorySource('art.pdf', make()), {}, pageData)
      return [name, marks.length, [...new Set(findings.map(({ code }) => code))].join(' ')] as const
    }),
  )
  expect(found).toEqual([
    ['scripts when it opens, when it is shown, in a field', 1, ''],
    ['actions that start a program, open a file and send a form', 1, ''],
    ['data that lie in other files', 2, 'content-elsewhere'],
    ['files inside the file', 1, ''],
    ['a form that paints itself', 0, 'form-in-itself'],
    ['a glyph that shows itself', 0, ''],
  ])
  expect(tried()).toBe(0)
})

test('forms that double forty times are given up', async () => {
  const began = performance.now()
  const reading = readInkPage(memorySource('art.pdf', doublingForms(40)), {}, pageData)
  await expect(reading).rejects.toMatchObject({
    name: 'BadInput',
    code: 'page-too-complex',
    subject: 'art.pdf',
  })
  expect(performance.now() - began).toBeLessThan(60_000)
})
