import { describe, expect, test } from 'vitest'
import { PathWriter } from '../../../core/art/ink/path.ts'
import type { DrawnShape, Layer } from '../../../core/art/layer.ts'
import type { Path } from '../../../core/art/path.ts'
import { plainLayer } from '../../../core/art/plain-layer.ts'
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

test('a drawing without a stated trim is as large as it says, not as its pixels', () => {
  // 100 mm are 1181.1 pixels at 300 on an inch.
  const drawn = { ...page, trim: null, bleed: null, sizeMm: [100, 50] } as const
  const art = { ...plainArt, width: 1181, height: 591, resolutionPpi: 300, page: drawn }
  const sheet = plateSheet(newJob(art, 'ab'.repeat(32), 'front.svg', []), art, 0)
  expect(sheet.trim).toEqual([100, 50])
  expect(sheet.arts[0]!.at.map(Math.abs)).toEqual([0, 0])
})

describe('a die that is cut into two', () => {
  const line = (...at: readonly number[]): DrawnShape => ({
    path: pathOf(at),
    rule: null,
    penMm: 0.2,
    planes: [4],
  })
  const cut: Layer = {
    ...plainLayer({
      id: 'Cut',
      name: 'Cut',
      kind: 'shape',
      box: { left: 0, top: 0, right: 1, bottom: 1 },
      channelIds: [],
    }),
    outlines: [line(3, 3, 98.6, 3, 98.6, 49.8, 3, 49.8, 3, 3), line(50, 3, 50, 49.8)],
  }
  const sheetOf = (trim: readonly [number, number, number, number]) => {
    const art = { ...plainArt, layers: [cut], page: { ...page, trim, sizeMm: [101.6, 50.8] as const } }
    return plateSheet(newJob(art, 'ab'.repeat(32), 'two.pdf', []), art, 0)
  }

  test('has the trim that its page states around all of it', () => {
    const { trim, die } = sheetOf([3, 3, 98.6, 49.8])
    expect(trim).toEqual([95.6, 46.8].map(side => expect.closeTo(side, 6)))
    const across = die!.lines.flatMap(({ points }) => points.map(([x]) => x))
    expect(Math.min(...across)).toBeCloseTo(0, 6)
    expect(Math.max(...across)).toBeCloseTo(95.6, 6)
  })

  test('has its own where the page states all of itself, as programs do that know no trim', () => {
    const { trim } = sheetOf([0, 0, 101.6, 50.8])
    expect(trim[0]).toBeLessThan(49)
    expect(trim[1]).toBeCloseTo(46.8, 6)
  })
})

function pathOf(at: readonly number[]): Path {
  const writer = new PathWriter()
  for (let i = 0; i < at.length; i += 2)
    if (i === 0) writer.move(at[i]!, at[i + 1]!)
    else writer.line(at[i]!, at[i + 1]!)
  return writer.path()
}
