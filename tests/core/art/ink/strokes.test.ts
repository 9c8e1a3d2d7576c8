import { describe, expect, test } from 'vitest'
import type { StrokeStyle } from '../../../../core/art/ink/mark.ts'
import { area, circle, paintMm, path, stroke } from '../../../support/ink-page.ts'

/** Area of a stroke of a path of words, on a page of 60 by 60 pixels. */
const inked = (words: string, style: Partial<StrokeStyle>): number =>
  area(paintMm(60, 60, [stroke(path(words), style)]).inks[3]!)

describe('areas of strokes, by analytic truth (ISO 32000-2, 8.4.3)', () => {
  // 20 long, slanting, so that edges cross pixels.
  const line = 'm 20 20 l 32 36'
  const w = 5

  test('caps', () => {
    expect(inked(line, { width: w })).toBeCloseTo(20 * w, 0)
    expect(inked(line, { width: w, cap: 'square' })).toBeCloseTo(25 * w, 0)
    expect(Math.abs(inked(line, { width: w, cap: 'round' }) - (20 * w + (Math.PI * w * w) / 4))).toBeLessThan(
      0.3,
    )
  })

  test('joins at a right angle', () => {
    const corner = 'm 10 10 l 30 10 l 30 30'
    // Two bars of 20 share a square quarter of the corner: w²/4 lies under both.
    const bars = 40 * w - (w * w) / 4
    const quarter = (w * w) / 4
    expect(inked(corner, { width: w })).toBeCloseTo(bars + quarter, 0)
    expect(inked(corner, { width: w, join: 'bevel' })).toBeCloseTo(bars + quarter / 2, 0)
    expect(
      Math.abs(inked(corner, { width: w, join: 'round' }) - (bars + (quarter * Math.PI) / 4)),
    ).toBeLessThan(0.3)
  })

  test('a miter longer than its limit is cut off as a bevel (8.4.3.5)', () => {
    // 60°: a miter is 1 / sin 30° = 2 widths long.
    const words = `m 10 30 l 40 30 l 25 ${30 - 15 * Math.sqrt(3)}`
    const long = inked(words, { width: w, miterLimit: 2.01 })
    const cut = inked(words, { width: w, miterLimit: 1.99 })
    // The tip beyond the bevel: h² cot(φ/2) − (h²/2) sin φ … as triangles about the corner, h = w/2, turn 120°.
    const h = w / 2
    const tip = h * h * Math.tan(Math.PI / 3) - (h * h * Math.sin((2 * Math.PI) / 3)) / 2
    expect(Math.abs(long - cut - tip)).toBeLessThan(0.3)
    expect(inked(words, { width: w, join: 'bevel' })).toBe(cut)
  })

  test('a closed line has a join where it closes, and no caps', () => {
    const square = 'm 10 10 l 40 10 l 40 40 l 10 40 z'
    expect(inked(square, { width: 4, cap: 'square' })).toBeCloseTo(34 * 34 - 26 * 26, 1)
    expect(inked('m 10 10 l 40 10 l 40 40 l 10 40 l 10 10', { width: 4 })).toBeCloseTo(
      34 * 34 - 26 * 26 - 4,
      1,
    )
  })

  test('a ring', () => {
    const planes = paintMm(60, 60, [stroke(circle(30, 30, 20), { width: 6 })])
    expect(Math.abs(area(planes.inks[3]!) - Math.PI * (23 * 23 - 17 * 17))).toBeLessThan(1.2)
  })

  test('a pen wider than its ring fills it', () => {
    const planes = paintMm(60, 60, [stroke(circle(30, 30, 5), { width: 16 })])
    expect(Math.abs(area(planes.inks[3]!) - Math.PI * 13 * 13)).toBeLessThan(1.2)
  })

  test('the pen is a circle where the path was drawn', () => {
    // Twice as tall as wide: an upright line gets 4 wide, a level one 8 tall.
    const matrix = [1, 0, 0, 2, 0, 0] as const
    const of = (words: string) =>
      area(paintMm(60, 60, [stroke(path(words), { width: 4 }, { matrix })]).inks[3]!)
    expect(of('m 20 5 l 20 25')).toBe(4 * 40)
    expect(of('m 10 15 l 50 15')).toBe(40 * 8)
  })

  test('no width is a line of one pixel', () => {
    expect(inked('m 10 20.5 l 50 20.5', { width: 0 })).toBe(40)
    const matrix = [0.01, 0, 0, 0.01, 0, 0] as const
    const planes = paintMm(60, 60, [stroke(path('m 1000 2050 l 5000 2050'), { width: 0 }, { matrix })])
    expect(area(planes.inks[3]!)).toBe(40)
  })

  test('lines thinner than a pixel have the ink of their area', () => {
    expect(Math.abs(inked('m 10 20 l 50 20', { width: 0.2 }) - 8)).toBeLessThan(0.2)
  })

  test('a line of no length', () => {
    expect(inked('m 20 20 l 20 20', { width: 6 })).toBe(0)
    expect(inked('m 20 20 l 20 20', { width: 6, cap: 'square' })).toBe(36)
    expect(Math.abs(inked('m 20 20 l 20 20', { width: 6, cap: 'round' }) - 9 * Math.PI)).toBeLessThan(0.3)
    expect(inked('m 20 20', { width: 6, cap: 'round' })).toBe(0)
  })
})

describe('dashes (8.4.3.6)', () => {
  const level = 'm 4 20.5 l 54 20.5'

  test('lengths on and off, and where they begin', () => {
    expect(inked(level, { width: 1, dash: [3, 2] })).toBeCloseTo(30, 1)
    expect(inked(level, { width: 1, dash: [4] })).toBeCloseTo(26, 1)
    expect(inked(level, { width: 1, dash: [10, 100], dashPhase: 4 })).toBeCloseTo(6, 1)
    expect(inked(level, { width: 1, dash: [10, 100], dashPhase: -45 })).toBeCloseTo(5, 1)
    expect(inked(level, { width: 1, dash: [1, 2, 3] })).toBeCloseTo(25, 0)
  })

  test('dashes of no length show their caps, along the line', () => {
    expect(inked(level, { width: 2, cap: 'butt', dash: [0, 10] })).toBeLessThan(0.1)
    expect(Math.abs(inked(level, { width: 2, cap: 'square', dash: [0, 10] }) - 6 * 4)).toBeLessThan(0.3)
    // On a slanting line squares are turned: five of 3 × 3, one at each end.
    const slanting = inked('m 10 10 l 50 40', { width: 3, cap: 'square', dash: [0, 12.5] })
    expect(Math.abs(slanting - 5 * 9)).toBeLessThan(0.6)
  })

  test('round a corner, with its join', () => {
    expect(inked('m 10 10 l 30 10 l 30 30', { width: 4, dash: [30, 100] })).toBeCloseTo(30 * 4, 0)
  })

  test('a dash goes on where a closed line closes', () => {
    // On for 15 from the start, off for 30, on again for 35: joined at the first corner, as a miter.
    const words = 'm 10 10 l 30 10 l 30 30 l 10 30 z'
    expect(inked(words, { width: 4, dash: [15, 30, 35, 50] })).toBeCloseTo(50 * 4, 0)
  })

  test('a pattern too fine to be seen is a whole line', () => {
    expect(inked(level, { width: 1, dash: [1e-9, 1e-9] })).toBe(50)
    expect(inked(level, { width: 1, dash: [0, 0] })).toBe(50)
  })
})
