import { expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import { type Blank, panelOf } from '../../../core/carton/blank.ts'
import { signedArea } from '../../../core/carton/outline.ts'
import { readDie } from '../../../core/carton/read/read-die.ts'
import { readSvg } from '../../../core/carton/read/svg.ts'
import { dieSvg } from '../../../core/carton/svg-out.ts'
import type { Outline } from '../../../core/effects/outline.ts'
import { artCorners, cartonFor } from '../../../core/job/carton.ts'
import { cartonFindings } from '../../../core/job/carton-findings.ts'
import { putOutline, setEffect } from '../../../core/job/edit.ts'
import { checkJob, parseJob } from '../../../core/job/parse.ts'
import { blankOf, solidOf } from '../../../core/job/solid.ts'
import { tray, trayLines } from '../../support/carton.ts'
import { plainJob } from '../../support/job.ts'

const art = { widthMm: 40, heightMm: 35 }

test('art on a panel starts at the panel’s corner, and only panels that it reaches show it', () => {
  const corners = artCorners(tray(), [{ panel: 'front', xMm: 1, yMm: -2 }], art)
  expect([...corners]).toEqual([['front', [21, 18]]])
})

test('art over the blank is on every panel that it reaches', () => {
  const corners = artCorners(tray(), [{ panel: null, xMm: 20, yMm: 20 }], art)
  expect([...corners.keys()].sort()).toEqual(['front'])
  const bleeding = artCorners(tray(), [{ panel: null, xMm: 19, yMm: 19 }], { widthMm: 42, heightMm: 37 })
  expect([...bleeding.keys()].sort()).toEqual(['floor', 'front', 'left', 'lid', 'right'])
})

test('of two places on one panel the first is seen', () => {
  const corners = artCorners(
    tray(),
    [
      { panel: 'lid', xMm: 0, yMm: 0 },
      { panel: null, xMm: 0, yMm: 0 },
    ],
    { widthMm: 80, heightMm: 80 },
  )
  expect(corners.get('lid')).toEqual([20, 55])
  expect(corners.get('front')).toEqual([0, 0])
})

test('a carton goes into a job and comes back, drawn or by its sizes', () => {
  const job = checkJob({ ...plainJob, carton: cartonFor(plainJob.panel) }, 'x.json')
  expect(job.carton).toEqual(cartonFor(plainJob.panel))
  const { die } = tray()
  const drawn = {
    ...cartonFor(plainJob.panel),
    form: { from: 'drawing', name: 'die.svg', lines: trayLines, glue: die.glue },
  }
  const opened = checkJob({ ...plainJob, carton: drawn }, 'x.json')
  expect(opened.carton).toEqual(drawn)
  const blank = blankOf(opened)
  expect(blank).not.toBeInstanceOf(BadInput)
  expect((blank as Blank).panels.length).toBe(6)
})

test('every kind of line of a drawing is kept in the job and written again; a lid that folds toward the print still does', () => {
  const lines = [
    ...trayLines.map(line =>
      line.kind === 'crease' && line.points.every(([, y]) => y === 55)
        ? { ...line, kind: 'reverse-crease' as const }
        : line,
    ),
    {
      kind: 'tear' as const,
      points: [
        [20, 30],
        [60, 30],
      ] as const,
    },
    {
      kind: 'perforation' as const,
      points: [
        [20, 40],
        [60, 40],
      ] as const,
    },
  ]
  const form = { from: 'drawing' as const, name: 'die.svg', lines, glue: [] }
  const job = checkJob({ ...plainJob, carton: { ...cartonFor(plainJob.panel), form } }, 'x.json')
  const reopened = parseJob(JSON.stringify(job), 'x.json')
  expect(reopened.carton?.form).toEqual(form)
  const blank = blankOf(reopened) as Blank
  const kindsOf = (one: { readonly lines: readonly { readonly kind: string }[] }) =>
    one.lines.map(({ kind }) => kind).sort()
  expect(kindsOf(blank.die)).toEqual(kindsOf(form))
  expect(new Set(kindsOf(blank.die))).toEqual(
    new Set(['crease', 'cut', 'perforation', 'reverse-crease', 'tear']),
  )
  const toward = (one: Blank) => one.hinges.filter(({ closedDeg }) => closedDeg < 0).map(({ name }) => name)
  // The lid: 40 × 15 mm.
  const [lid, ...more] = toward(blank)
  expect(more).toEqual([])
  expect(signedArea(panelOf(blank, lid!).outline)).toBeCloseTo(600, 6)
  const svg = new TextEncoder().encode(dieSvg(blank, 'tray'))
  const read = readDie(readSvg(svg, 'tray.svg'), { caliperMm: blank.caliperMm })
  expect(kindsOf(read.die)).toEqual(kindsOf(form))
  expect(read.blank!.hinges.filter(({ closedDeg }) => closedDeg < 0)).toHaveLength(1)
})

test('art over the whole blank is held against the die: turned, in another unit, or too small for it', () => {
  const found = (widthMm: number, heightMm: number) => {
    const carton = cartonFor({ widthMm: 60, heightMm: 100 })
    const job = {
      ...plainJob,
      carton: { ...carton, arts: [{ panel: null, xMm: 0, yMm: 0 }] },
      panel: { widthMm, heightMm, resolutionPpi: 300 },
    }
    return cartonFindings(job).map(({ code }) => code)
  }
  const { widthMm, heightMm } = blankOf({
    ...plainJob,
    carton: cartonFor({ widthMm: 60, heightMm: 100 }),
  }) as Blank
  expect(found(widthMm, heightMm)).toEqual([])
  expect(found(widthMm + 6, heightMm + 6)).toEqual([])
  expect(found(heightMm, widthMm)).toEqual(['art-turned'])
  expect(found((widthMm * 25.4) / 72, (heightMm * 25.4) / 72)).toEqual(['art-other-unit'])
  expect(found(widthMm + 200, heightMm + 200)).toEqual(['art-larger-than-die'])
  expect(found(widthMm / 2, heightMm)).toEqual(['art-smaller-than-die'])
})

test('a negative flap in a job is refused by its field', () => {
  const carton = cartonFor(plainJob.panel)
  const negative = { ...carton, form: { ...carton.form, own: { dustMm: -5 } } }
  expect(() => checkJob({ ...plainJob, carton: negative }, 'x.json')).toThrow(
    /field "carton.form.own.dustMm": expected a number from .* got -5/,
  )
})

test('sizes that cannot be made are a finding, and the panel stays flat', () => {
  const carton = cartonFor(plainJob.panel)
  const narrow = { ...carton, form: { ...carton.form, widthMm: 0.5 } }
  const job = checkJob({ ...plainJob, carton: narrow }, 'x.json')
  expect(solidOf(job)).toBeUndefined()
  expect(cartonFindings(job)).toMatchObject([{ severity: 'error', message: expect.stringContaining('flat') }])
})

test('art that lies nowhere, is far larger than the die, or on a panel that is not there, is a finding', () => {
  const carton = cartonFor({ widthMm: 60, heightMm: 80 })
  const codes = (change: object, panel = { widthMm: 60, heightMm: 80, resolutionPpi: 300 }) =>
    cartonFindings({ ...checkJob({ ...plainJob, carton: { ...carton, ...change } }, 'x.json'), panel }).map(
      ({ code }) => code,
    )
  expect(codes({})).toEqual([])
  expect(codes({ arts: [{ panel: 'front', xMm: 900, yMm: 0 }] })).toEqual(['art-off-blank'])
  expect(codes({ arts: [{ panel: 'roof', xMm: 0, yMm: 0 }] })).toEqual(['art-off-blank', 'carton-part-gone'])
  expect(codes({}, { widthMm: 700, heightMm: 80, resolutionPpi: 300 })).toEqual(['art-larger-than-die'])
  expect(codes({ fold: { amount: 1, own: { nothing: 20 } } })).toEqual(['carton-part-gone'])
})

test.each([
  ['style', { form: { from: 'sizes', top: { kind: 'zip' } } }],
  ['amount', { fold: { amount: 2, own: {} } }],
  ['lengthMm', { form: { lengthMm: Number.NaN } }],
  ['own', { form: { own: { glueMm: -3 } } }],
])('a job whose carton has a wrong %s is refused with its place', (_, change) => {
  const carton = cartonFor(plainJob.panel)
  const wrong = {
    ...carton,
    ...change,
    ...('form' in change ? { form: { ...carton.form, ...change.form } } : {}),
  }
  expect(() => checkJob({ ...plainJob, carton: wrong }, 'x.json')).toThrow(/carton/)
})

test('a drawn area that no panel shows is a warning, one that reaches off the panels a note, a bare shape neither', () => {
  // Art of 101.6 × 50.8 mm on a front of its size.
  const carton = cartonFor(plainJob.panel)
  const square = (left: number, bottom: number, side: number): Outline => ({
    id: 'sky',
    name: 'Sky',
    rings: [
      [
        [left, bottom],
        [left + side, bottom],
        [left + side, bottom + side],
        [left, bottom + side],
      ],
    ],
  })
  const found = (outline: Outline, drop = 0) => {
    const arts = [{ panel: 'front', xMm: 0, yMm: -drop }]
    const job = putOutline(outline)({ ...plainJob, carton: { ...carton, arts } })
    const lit = setEffect({ kind: 'outline', id: 'sky' }, { kind: 'plain', parameters: {} })(job)
    expect(cartonFindings(job)).toEqual([])
    return cartonFindings(lit)
  }
  expect(found(square(5, 5, 10))).toEqual([])
  // The art hangs 20 mm below the front: what lies lower than that is on no panel.
  expect(found(square(5, 5, 10), 20)).toMatchObject([
    { severity: 'warning', code: 'area-off-blank', where: 'area "Sky"' },
  ])
  expect(found(square(5, 10, 40), 20)).toMatchObject([
    { severity: 'note', code: 'area-reaches-off-blank', message: expect.stringMatching(/^25 % /) },
  ])
})
