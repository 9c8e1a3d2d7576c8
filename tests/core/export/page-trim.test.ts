import { expect, test } from 'vitest'
import { plateSheet } from '../../../core/export/plate-sheet.ts'
import { newJob } from '../../../core/job/new.ts'
import { plainArt } from '../../support/job.ts'

/** A page of 101.6 × 50.8 mm with 3 mm of bleed on all sides but the top, which has 1 mm. */
const page = {
  number: 1,
  count: 1,
  trim: [3, 3, 98.6, 49.8],
  bleed: [0, 0, 101.6, 50.8],
  fonts: [],
  inexact: [],
  readAs: 'inks',
} as const

test('the trim of a page is the trim of its plates, and what lies past it their bleed', () => {
  const art = { ...plainArt, page }
  const sheet = plateSheet(newJob(art, 'ab'.repeat(32), 'front.pdf', []), art, 3)
  expect(sheet.trim[0]).toBeCloseTo(95.6, 6)
  expect(sheet.trim[1]).toBeCloseTo(46.8, 6)
  expect(sheet.bleed.map(side => Number(side.toFixed(6)))).toEqual([3, 3, 3, 1])
  expect(sheet.arts[0]!.at).toEqual([-3, -3])
  expect(sheet.findings.map(one => one.code)).toEqual(['dieline-missing', 'bleed-short'])
})

test('art without a page ends at its trim', () => {
  const sheet = plateSheet(newJob(plainArt, 'ab'.repeat(32), 'front.psd', []), plainArt, 0)
  expect(sheet.trim).toEqual([101.6, 50.8])
})
