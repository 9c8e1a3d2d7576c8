import { expect, test } from 'vitest'
import { drawnArt } from '../../../../core/art/drawn/art.ts'
import type { Mark } from '../../../../core/art/ink/mark.ts'
import { PathWriter } from '../../../../core/art/ink/path.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { bleedFindings } from '../../../../core/checks/preflight/bleed.ts'
import { stepProblems } from '../../../../core/checks/preflight/steps.ts'
import { thinLines } from '../../../../core/checks/preflight/thin-lines.ts'
import { xHeightFindings } from '../../../../core/checks/preflight/x-height.ts'
import { pointMm } from '../../../../core/checks/type-size.ts'
import { pathOf } from '../../../../core/material/drawn-shapes.ts'
import { assignRoles } from '../../../../core/roles/assign.ts'
import { outlines } from '../../../../demo-assets/lettering.ts'
import { drawnLine, filled, inkPage, pageLayer, processInks, typed } from '../../../support/drawn-page.ts'
import { paintMap } from '../../../support/paint-map.ts'

const how = { name: 'label.pdf', format: 'PDF', mode: 'CMYK', number: 1, count: 1, readAs: 'inks' } as const

/** A page of 20 mm at 300 ppi. @param metal under all of it, 0 or 1 */
function inputOf(marks: readonly Mark[], metal = 0): CheckInput {
  const names = ['Art', 'Open']
  const page = inkPage({
    widthMm: 20,
    heightMm: 20,
    inks: processInks,
    layers: names.map(name => pageLayer(name)),
    marks,
  })
  const file = drawnArt(page, { ...how, ppi: 300 })
  const sideMm = (file.art.width * 25.4) / 300
  const plan = { size: file.art.width, sideMm, gratings: 0, whites: [], spots: [], varnish: false } as const
  const map = paintMap(plan, () => ({ metal }))
  return {
    art: file.art,
    file,
    assigned: assignRoles(file.art, { aliases: [], choices: [] }),
    map,
    limits: {},
    blank: null,
    corners: new Map(),
  } as unknown as CheckInput
}

const k = { 3: 1 }

test('a line of 0.05 mm is as wide as its pen, whichever way it runs', async () => {
  for (const points of [
    [
      [2.03, 5],
      [17, 5],
    ],
    [
      [3, 3],
      [15, 11],
    ],
  ] as const) {
    const [one, ...more] = await thinLines(inputOf([drawnLine(points, 0.05, k, { layer: 0 })], 1))
    expect(more).toEqual([])
    expect(one).toMatchObject({ code: 'line-too-thin', where: 'layer "Art"' })
    expect(one!.measured!.value).toBeCloseTo(0.05, 2)
    // A board that is no metal holds finer ones.
    const codes = async (width: number) =>
      (await thinLines(inputOf([drawnLine(points, width, k, { layer: 0 })]))).map(({ code }) => code)
    expect(await codes(0.04)).toEqual(['line-too-thin'])
    expect(await codes(0.06)).toEqual([])
  }
})

test('a line left open in a block is a gap, drawn without ink or cut out of it', async () => {
  const block = [3, 3, 17, 17] as const
  const drawn = await thinLines(
    inputOf([
      filled(block, k, { layer: 0 }),
      drawnLine(
        [
          [5, 6],
          [15, 6],
        ],
        0.05,
        {},
        { layer: 1 },
      ),
    ]),
  )
  expect(drawn.map(({ code, where }) => [code, where])).toEqual([['gap-too-thin', 'layer "Open"']])
  expect(drawn[0]!.measured!.value).toBeCloseTo(0.05, 2)
  const halves = [filled([3, 3, 9.4, 17], k, { layer: 0 }), filled([9.45, 3, 17, 17], k, { layer: 0 })]
  const cut = await thinLines(inputOf(halves))
  expect(cut.map(({ code }) => code)).toEqual(['gap-too-thin'])
  expect(cut[0]!.measured!.value).toBeCloseTo(0.05, 2)
})

test('a ring of a thin pen is a thin line, a wide line and a disc are none', async () => {
  const ring = (width: number) => ({
    ...drawnLine(
      [
        [0, 0],
        [1, 1],
      ],
      width,
      k,
      { layer: 0 },
    ),
    path: circle(10, 10, 5),
  })
  const thin = await thinLines(inputOf([ring(0.04)]))
  expect(thin.map(({ code }) => code)).toEqual(['line-too-thin'])
  expect(thin[0]!.measured!.value).toBeCloseTo(0.04, 2)
  expect(await thinLines(inputOf([ring(0.5), filled([9, 9, 11, 11], k, { layer: 0 })]))).toEqual([])
})

function circle(x: number, y: number, r: number) {
  const c = 0.5522847498 * r
  const path = new PathWriter()
  path.move(x + r, y)
  path.curve(x + r, y + c, x + c, y + r, x, y + r)
  path.curve(x - c, y + r, x - r, y + c, x - r, y)
  path.curve(x - r, y - c, x - c, y - r, x, y - r)
  path.curve(x + c, y - r, x + r, y - c, x + r, y)
  path.close()
  return path.path()
}

/** A word of 4 pt as its letters' outlines. */
function word(layer: number, tints: Readonly<Record<number, number>>): Mark {
  const line = { text: 'zxv vzx', face: 'small', size: 4 * pointMm, at: [6.01, 9.03] } as const
  return {
    ...filled([0, 0, 1, 1], tints, { layer, text: typed(line.text, line.size) }),
    path: pathOf(outlines(line)),
    rule: 'nonzero',
  }
}

test('type of 4 pt, printed or left open, is measured by its outlines', async () => {
  // Of DejaVu Sans z, x and v are as high as the x-height, which its OS/2 table gives as 1120 of 2048 units.
  const high = (4 * pointMm * 1120) / 2048
  for (const marks of [[word(0, k)], [filled([4, 6, 16, 12], k, { layer: 0 }), word(1, {})]]) {
    const [one, ...more] = await xHeightFindings(inputOf(marks))
    expect(more).toEqual([])
    expect(one).toMatchObject({ code: 'x-height-small' })
    // A pixel of 1200 ppi is 0.02 mm.
    expect(Math.abs(one!.measured!.value - high)).toBeLessThan(0.022)
  }
})

test('print of a page without die has to reach past its trim box', () => {
  const page = inputOf([filled([0, 0, 20, 18.5], k, { layer: 0 })])
  const ink = paintMap(
    { size: 240, sideMm: page.map.widthMm, gratings: 0, whites: [], spots: [], varnish: false },
    (_x, y) => ({ cmyk: y < 0.85 ? [0, 0, 0, 1] : [0, 0, 0, 0] }),
  )
  const trimmedTo = (trim: readonly [number, number, number, number] | null) =>
    bleedFindings({ ...page, map: ink, art: { ...page.art, page: { ...page.art.page!, trim } } })
  // 0.85 of the half above the middle: 18.5 mm.
  expect(trimmedTo([3, 3, 17, 15])).toEqual([])
  expect(trimmedTo(null)).toEqual([])
  // The page itself says nothing of its bleed.
  expect(trimmedTo([0, 0, 20, 20])).toEqual([])
  const [one, ...more] = trimmedTo([3, 3, 17, 17])
  expect(more).toEqual([])
  expect(one).toMatchObject({ code: 'bleed-short', where: 'trimmed page' })
  // Looked at in steps of 0.25 mm.
  expect([1.25, 1.5]).toContain(one!.measured!.value)
})

test('a step that the standard does not have is told by the preflight', () => {
  const step = { group: 'Structural', type: 'Slicing' }
  const page = inkPage({
    layers: [pageLayer('Blade', { step })],
    marks: [filled([1, 1, 5, 5], k, { layer: 0 })],
  })
  const { art } = drawnArt(page, { ...how, ppi: 300 })
  const found = stepProblems({ ...inputOf([]), art })
  expect(found.map(({ code, where }) => [code, where])).toEqual([['step-unknown', 'layer "Blade"']])
})
