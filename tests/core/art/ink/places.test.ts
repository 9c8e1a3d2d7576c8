import { describe, expect, test } from 'vitest'
import type { InkField, Mark, Matrix, Paint, SoftMask } from '../../../../core/art/ink/mark.ts'
import { BadInput } from '../../../../core/base/finding.ts'
import { Cancelled } from '../../../../core/base/task.ts'
import {
  area,
  at,
  circle,
  clip,
  fill,
  group,
  paintMm,
  path,
  plainLook,
  rect,
  stroke,
  tints,
} from '../../../support/ink-page.ts'

const black = tints({ 3: 1 })

/** Black that grows with x, magenta with y: 0..1 over 40 mm; nothing left of x = 4. */
const slope: InkField = {
  inks: [3, 1],
  row: (x, y, step, count, out, shape) => {
    for (let i = 0; i < count; i++) {
      out[0]![i] = (x + i * step) / 40
      out[1]![i] = y / 40
      shape[i] = x + i * step < 4 ? 0 : 1
    }
  },
}
const sloping: Paint = { kind: 'field', field: slope }

describe('amounts that change from place to place', () => {
  test('are read at the middles of pixels, y up', () => {
    const planes = paintMm(40, 40, [fill(rect(0, 0, 40, 40), sloping)])
    expect(at(planes, 20, 10)[3]).toBeCloseTo(20.5 / 40, 2)
    expect(at(planes, 20, 10)[1]).toBeCloseTo(29.5 / 40, 2)
    expect(at(planes, 2, 10)[6]).toBe(0)
  })

  test('knock out other inks where they are painted, or overprint them', () => {
    const below = fill(rect(0, 0, 40, 40), tints({ 4: 1 }))
    const over = (overprint: boolean) =>
      paintMm(40, 40, [below, fill(rect(0, 0, 40, 40), sloping, { overprint })])
    expect([at(over(false), 2, 10)[4], at(over(false), 20, 10)[4]]).toEqual([1, 0])
    expect(at(over(true), 20, 10)[4]).toBe(1)
  })
})

describe('cells that repeat', () => {
  const cellOf = (marks: readonly Mark[], matrix: Matrix, step = 5): Paint => ({
    kind: 'tiling',
    tiling: { marks, box: [0, 0, 5, 5], stepX: step, stepY: step, matrix },
  })
  const all = rect(0, 0, 40, 40)

  test('have the ink of all their copies, however they are turned', () => {
    const dot = [fill(circle(2.5, 2.5, 1), black)]
    for (const angle of [0, 0.3, 1.1]) {
      const [c, s] = [Math.cos(angle), Math.sin(angle)]
      const planes = paintMm(40, 40, [fill(all, cellOf(dot, [c, s, -s, c, 1.7, 0.4]))])
      // Dots along the rim are cut: a twelfth of all, either way.
      expect(Math.abs(area(planes.inks[3]!) - 64 * Math.PI)).toBeLessThan(64 * Math.PI * 0.08)
    }
  })

  test('are cut to their box', () => {
    const wide = [fill(rect(-2, 1, 9, 2), black)]
    const planes = paintMm(40, 40, [fill(all, cellOf(wide, [1, 0, 0, 1, 0, 0], 10))])
    expect(area(planes.inks[3]!)).toBe(16 * 5)
  })

  test('leave no seam where they abut between pixels, whatever lies below', () => {
    const ground = [fill(rect(0, 0, 5, 5), tints({ 1: 0.6 }), { overprint: true })]
    const larger = [fill(rect(-3, -3, 8, 8), tints({ 1: 0.6 }), { overprint: true })]
    for (const marks of [ground, larger]) {
      const below = fill(all, tints({ 4: 0.4 }))
      const planes = paintMm(40, 40, [below, fill(all, cellOf(marks, [1.03, 0, 0, 0.97, 0.3, 0.6]))])
      expect(new Set(planes.inks[1])).toEqual(new Set([153]))
      expect(new Set(planes.inks[4])).toEqual(new Set([102]))
    }
  })

  test('take the look of the mark that they fill, as one group', () => {
    const half = [fill(rect(0, 0, 5, 5), black), fill(rect(0, 0, 5, 5), black)]
    const planes = paintMm(40, 40, [
      fill(circle(20, 20, 10), cellOf(half, [1, 0, 0, 1, 0, 0]), { alpha: 0.5 }),
    ])
    expect(at(planes, 20, 20)[3]).toBeCloseTo(0.5, 2)
    expect(Math.abs(area(planes.inks[3]!) - 50 * Math.PI)).toBeLessThan(1)
  })

  test('may hold fields, strokes, clips and other cells', () => {
    const inner = cellOf([fill(rect(0, 0, 2.5, 5), black)], [0.2, 0, 0, 0.2, 0, 0])
    const within = paintMm(40, 40, [fill(all, cellOf([fill(rect(0, 0, 5, 5), inner)], [2, 0, 0, 2, 0, 0]))])
    // Stripes 1 mm wide, 1 mm apart.
    expect(area(within.inks[3]!)).toBe(800)
    const cut = clip(circle(2.5, 2.5, 2))
    const lines = [stroke(path('m 0 2.5 l 5 2.5'), { width: 1 }, { clip: cut })]
    const clipped = paintMm(40, 40, [fill(all, cellOf(lines, [1, 0, 0, 1, 0, 0]))])
    // A band 1 wide through a circle of radius 2: 2 (h √(r² − h²) + r² asin(h / r)), h = 0.5.
    const band = 2 * (0.5 * Math.sqrt(4 - 0.25) + 4 * Math.asin(0.25))
    expect(Math.abs(area(clipped.inks[3]!) - 64 * band)).toBeLessThan(3)
    const fields = [fill(rect(0, 0, 5, 5), sloping)]
    const planes = paintMm(40, 40, [fill(all, cellOf(fields, [8, 0, 0, 8, 0, 0]))])
    // Pattern space is an eighth of the page: 5 of 40 at most, and nothing left of 4.
    expect(at(planes, 38, 1)[3]).toBeCloseTo(38.5 / 320, 2)
    expect(at(planes, 30, 1)[6]).toBe(0)
    const turned = paintMm(40, 40, [fill(all, cellOf(fields, [0, 8, -8, 0, 40, 0]))])
    expect(at(turned, 20, 1)[3]).toBeCloseTo(38.5 / 320, 2)
  })

  test('so fine that a band would hold millions of copies are refused by name', () => {
    const dot = [fill(circle(2.5, 2.5, 1), black)]
    expect(() =>
      paintMm(400, 400, [fill(rect(0, 0, 400, 400), cellOf(dot, [1e-3, 0, 0, 1e-3, 0, 0]))]),
    ).toThrow(BadInput)
  })
})

describe('soft masks (ISO 32000-2, 11.5)', () => {
  const mask = (from: SoftMask['from'], marks: readonly Mark[], more: Partial<SoftMask> = {}): SoftMask => ({
    from,
    marks,
    clip: null,
    backdrop: 0,
    transfer: null,
    ...more,
  })
  const half = rect(0, 0, 5, 10)
  const seen = (softMask: SoftMask) => {
    const planes = paintMm(10, 10, [fill(rect(0, 0, 10, 10), tints({ 1: 1 }), { softMask })])
    return [at(planes, 2, 5)[1]!, at(planes, 7, 5)[1]!].map(v => Math.round(v * 100) / 100)
  }

  test('from alpha: the opacity of its marks, nothing outside', () => {
    expect(seen(mask('alpha', [fill(half, black, { alpha: 0.5 })]))).toEqual([0.5, 0])
    // Two halves, one over the other.
    const two = [fill(half, black, { alpha: 0.5 }), fill(half, tints({ 0: 0 }), { alpha: 0.5 })]
    expect(seen(mask('alpha', two))).toEqual([0.75, 0])
  })

  test('from luminosity: lightness over its backdrop', () => {
    const grey = fill(half, tints({ 0: 0.4 }))
    expect(seen(mask('luminosity', [grey]))).toEqual([0.6, 0])
    expect(seen(mask('luminosity', [grey], { backdrop: 1 }))).toEqual([0.6, 1])
    const thin = fill(half, tints({ 0: 0 }), { alpha: 0.5 })
    expect(seen(mask('luminosity', [thin], { backdrop: 0.2 }))).toEqual([0.6, 0.2])
  })

  test('through a transfer function, outside too', () => {
    const marks = [fill(half, tints({ 0: 0.25 }))]
    expect(seen(mask('luminosity', marks, { transfer: v => 1 - v }))).toEqual([0.25, 1])
  })

  test('on a group they count once for all of it', () => {
    const softMask = mask('alpha', [fill(rect(0, 0, 10, 10), black, { alpha: 0.5 })])
    const marks = [fill(half, tints({ 1: 1 })), fill(half, tints({ 1: 1 }))]
    const planes = paintMm(10, 10, [group(marks, { softMask })])
    expect(at(planes, 2, 5)[1]).toBeCloseTo(0.5, 2)
  })

  test('do not hold back inks that overprint keeps', () => {
    const softMask = mask('alpha', [fill(half, black, { alpha: 0.5 })])
    const below = fill(rect(0, 0, 10, 10), tints({ 4: 1 }))
    const above = fill(rect(0, 0, 10, 10), tints({ 1: 1 }), { softMask, overprint: true })
    expect(at(paintMm(10, 10, [below, above]), 2, 5)[4]).toBe(1)
  })
})

test('work that was told to stop stops', () => {
  const stop = new AbortController()
  stop.abort()
  const page = {
    ...plainLook,
    kind: 'fill',
    path: rect(0, 0, 9, 9),
    rule: 'nonzero',
    paint: black,
    text: null,
  } as const
  expect(() => paintMm(10, 10, [page], {}, { signal: stop.signal })).toThrow(Cancelled)
})
