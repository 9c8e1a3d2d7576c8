import { describe, expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import type { Blank } from '../../../core/carton/blank.ts'
import { measured } from '../../../core/carton/measure.ts'
import { cartonStyles } from '../../../core/carton/style.ts'
import type { SizedForm } from '../../../core/job/carton.ts'
import { cartonFindings } from '../../../core/job/carton-findings.ts'
import { cartonJob, layOnCarton } from '../../../core/job/carton-job.ts'
import { jobText, parseJob } from '../../../core/job/parse.ts'
import { blankOf, solidOf } from '../../../core/job/solid.ts'

/** Our own rules, no outside source. */

const form = (style: (typeof cartonStyles)[number], more: Partial<SizedForm> = {}): SizedForm => ({
  from: 'sizes',
  top: style.top,
  bottom: style.bottom,
  lengthMm: 80,
  widthMm: 45,
  heightMm: 120,
  measure: 'outside',
  own: {},
  code: '',
  ...more,
})

describe('a job of a carton without art', () => {
  test.each(cartonStyles)('$name stands at its size on its board, over the whole blank', style => {
    const job = cartonJob(form(style), 0.5)
    expect(parseJob(jobText(job), 'x.job.json')).toEqual(job)
    expect(job.art).toBeNull()
    const blank = blankOf(job) as Blank
    expect(blank.caliperMm).toBe(0.5)
    for (const [i, size] of [80, 45, 120].entries()) expect(measured(blank).outside[i]).toBeCloseTo(size, 9)
    expect(Math.abs(job.panel.widthMm - blank.widthMm)).toBeLessThanOrEqual(0.05)
    expect(cartonFindings(job)).toEqual([])
    // Each panel has its part of the art.
    for (const { outline } of solidOf(job)!.leaves)
      for (const [x] of outline) expect(Math.abs(x)).toBeLessThan(job.panel.widthMm)
  })

  test('a carton that cannot be made is refused with a way out', () => {
    const [style] = cartonStyles
    expect(() => cartonJob(form(style, { widthMm: 0.5 }), 0.4)).toThrow(BadInput)
  })
})

describe('art that comes later', () => {
  const job = {
    ...cartonJob(form(cartonStyles[0]), 0.4),
    outlines: [
      {
        id: 'a',
        name: 'Comet',
        rings: [
          [
            [100, 100],
            [110, 100],
            [110, 110],
          ] as const,
        ],
      },
    ],
    pins: [{ name: 'Spot', xMm: 100, yMm: 100 }],
  }
  const blank = blankOf(job) as Blank

  test('drawn by the die it lies over the blank with its bleed all round; shapes and pins stay on their board', () => {
    const art = { widthMm: blank.widthMm + 6, heightMm: blank.heightMm + 6, resolutionPpi: 300 }
    const laid = layOnCarton(art)(job)
    expect(laid.panel).toEqual(art)
    expect(laid.carton!.arts).toHaveLength(1)
    expect(laid.carton!.arts[0]!.panel).toBeNull()
    expect(laid.carton!.arts[0]!.xMm).toBeCloseTo(-3, 9)
    expect(laid.outlines[0]!.rings[0]![0]![0]).toBeCloseTo(103, 9)
    expect(laid.pins[0]!.yMm).toBeCloseTo(103, 9)
    expect(cartonFindings(laid)).toEqual([])
  })

  test('of one panel it lies in the middle of the front', () => {
    const laid = layOnCarton({ widthMm: 70, heightMm: 100, resolutionPpi: 300 })(job)
    const front = blank.panels.find(({ name }) => name === 'front')!
    const xs = front.outline.map(([x]) => x)
    const wide = Math.max(...xs) - Math.min(...xs)
    expect(laid.carton!.arts[0]!.panel).toBe('front')
    expect(laid.carton!.arts[0]!.xMm).toBeCloseTo((wide - 70) / 2, 9)
    // The pin is 100 mm from the blank's left; counted from the art it is less by where the art begins.
    expect(laid.pins[0]!.xMm).toBeCloseTo(100 - Math.min(...xs) - (wide - 70) / 2, 9)
  })

  test('a flat job keeps its panel', () => {
    const flat = { ...job, carton: null }
    expect(layOnCarton({ widthMm: 1, heightMm: 1, resolutionPpi: 300 })(flat)).toBe(flat)
  })
})
