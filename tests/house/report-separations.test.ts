import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import {
  readSeparations,
  type SeparationRow,
  separationPages,
  separationTable,
} from '../report/separations.ts'

const row = (own: Partial<SeparationRow>): SeparationRow => ({
  page: 'fills',
  ink: 'Cyan',
  largest: 1,
  allowed: 2,
  mean: 0.125,
  meanInside: 0.062,
  inside: 0.75,
  reason: '',
  ...own,
})
const rows = [
  row({ page: 'shadings', ink: 'White', largest: 4, allowed: 5, reason: 'steps of its own' }),
  row({ page: 'shadings', ink: 'Black', largest: 0, mean: 0.5 }),
  row({}),
  row({ page: 'clips', largest: 3 }),
]

test('the table of separations is read as it was left, and one of another make is refused', () => {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-report-'))
  try {
    const file = join(folder, 'separations.tsv')
    expect(readSeparations(file)).toBeNull()
    writeFileSync(file, separationTable(rows))
    expect(readSeparations(file)).toEqual(rows)
    writeFileSync(file, 'page\tink\n')
    expect(() => readSeparations(file)).toThrow(/expected the columns page, ink, largest/)
  } finally {
    rmSync(folder, { recursive: true })
  }
})

test('a page is as far off as its worst ink, by what is allowed of that', () => {
  expect(
    separationPages(rows).map(({ page, ink, largest, mean, within }) => [page, ink, largest, mean, within]),
  ).toEqual([
    ['fills', 'Cyan', 1, 0.125, true],
    ['clips', 'Cyan', 3, 0.125, false],
    ['shadings', 'White', 4, 0.5, true],
  ])
})
