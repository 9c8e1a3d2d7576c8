import { beforeAll, expect, test } from 'vitest'
import { glyphThread } from '../../electron/glyph-thread.ts'
import { build } from '../../scripts/build.mjs'
import { coded, openOne } from '../core/art/pdf/font-fixture.ts'
import { doublingFont } from '../support/doubling-font.ts'
import type { PdfText } from '../support/pdf-write.ts'

beforeAll(async () => {
  for (const part of ['workers', 'fonts']) await build(part)
})

const around = (bytes: Uint8Array) => (pdf: PdfText) =>
  `<< /Type /Font /Subtype /TrueType /BaseFont /Doubling /FirstChar 65 /LastChar 65 /Widths [500] /Encoding /WinAnsiEncoding /FontDescriptor << /Type /FontDescriptor /FontName /Doubling /Flags 32 /FontFile2 ${pdf.stream('', bytes)} >> >>`

test('what the thread reads is what this one reads, stand-ins of the build too', async () => {
  const read = glyphThread()
  for (const make of [
    around(doublingFont(2)),
    () => '<< /Type /Font /Subtype /Type1 /BaseFont /Times-Roman >>',
  ]) {
    const there = await openOne(make, [coded('A')], read)
    const here = await openOne(make, [coded('A')])
    expect(there.findings).toEqual(here.findings)
    expect(there.font.glyphs(coded('A'))).toEqual(here.font.glyphs(coded('A')))
    expect(there.font.glyphs(coded('A'))[0]!.outline!.steps.length).toBeGreaterThan(10)
  }
})

test('a font that doubles without end is given up, another stands in, and the next is read', async () => {
  const limits = { ms: 4000, heapMb: 256 }
  const thread = glyphThread(limits)
  // What stands in and what comes next may take what they take on a busy machine.
  const read: typeof thread = pdf =>
    thread(pdf).finally(() => {
      limits.ms = 60_000
    })
  const began = performance.now()
  const endless = await openOne(around(doublingFont(40)), [coded('A')], read)
  expect(endless.findings).toMatchObject([{ code: 'font-unreadable', severity: 'warning' }])
  expect(endless.font.glyphs(coded('A'))[0]!.outline).not.toBeNull()
  expect(performance.now() - began).toBeLessThan(30_000)
  expect((await openOne(around(doublingFont(3)), [coded('A')], read)).findings).toEqual([])
})
