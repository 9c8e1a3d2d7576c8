import { mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { afterAll, describe, expect, test } from 'vitest'
import { type SeparationRow, separationTable } from '../../report/separations.ts'
import { pdfPageNames, pdfPages } from '../../support/pdf-pages.ts'
import { allowedDifference, beyond, compareSeparations, type Separations } from '../../support/separations.ts'
import { hasTiffsep } from '../../support/tiffsep.ts'
import { artFolder } from './files.ts'

const table = new URL('../../../dist/report/separations.tsv', import.meta.url)
const rows: SeparationRow[] = []
function keep(page: string, { inks, inside }: Separations): void {
  const more = Object.entries(beyond).find(([name]) => name === page)?.[1]
  const [allowed, reason] = [more?.most ?? allowedDifference, more?.reason ?? '']
  for (const { ink, largest, mean, meanInside } of inks)
    rows.push({ page, ink, largest, allowed, mean, meanInside, inside, reason })
}
afterAll(() => {
  // A run of some pages alone leaves the table of all.
  if (rows.length === 0 || new Set(rows.map(({ page }) => page)).size < pdfPageNames.length) return
  mkdirSync(new URL('.', table), { recursive: true })
  writeFileSync(table, separationTable(rows))
})

// Every ink against a separation renderer that shares nothing with ours, 144 pixels on an inch. The differences of every
// ink of every page, of 255, are left in dist/report/separations.tsv.
describe.skipIf(!hasTiffsep)('planes of ink against a separation renderer (ghostscript)', () => {
  test.each(pdfPageNames)('%s', async name => {
    const found = await compareSeparations(pdfPages[name]())
    keep(name, found)
    const { inks, inside, alone, inexact } = found
    expect(alone).toEqual([])
    expect(inexact).toEqual([])
    expect(inks.length).toBeGreaterThanOrEqual(4)
    // Most of a page lies away from edges, so that most of it is judged.
    expect(inside).toBeGreaterThan(0.5)
    const most = beyond[name]?.most ?? allowedDifference
    expect(inks.filter(({ largest }) => largest > most)).toEqual([])
    // Edges too, on average: they lie where the reference has them.
    for (const { ink, mean } of inks) expect([ink, mean < 1.5]).toEqual([ink, true])
  })

  test('at least nine in ten pages need no allowance', () => {
    expect(Object.keys(beyond).length).toBeLessThanOrEqual(pdfPageNames.length / 10)
    for (const { reason } of Object.values(beyond)) expect(reason).not.toBe('')
  })

  test.each([
    ['built__separations-ocg-iso19593.pdf', ['White', 'Holo', 'Dieline']],
    ['pdf__veraPDF_test_suite_6-2-4-4-t01-pass-c.pdf', []],
    ['pdf__veraPDF_test_suite_6-2-4-4-t01-pass-f.pdf', []],
  ])('%s', async (file, spots) => {
    const found = await compareSeparations(readFileSync(`${artFolder}/${file}`), 72)
    keep(file, found)
    const { inks, alone } = found
    expect(alone).toEqual([])
    expect(inks.map(({ ink }) => ink)).toEqual(expect.arrayContaining(['Cyan', ...spots]))
    expect(inks.filter(({ largest }) => largest > allowedDifference)).toEqual([])
  })
})
