import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { panelOf } from '../../../core/carton/blank.ts'
import { type Carton, cartonOf } from '../../../core/carton/carton.ts'
import type { Point } from '../../../core/carton/die.ts'
import { fold, placed } from '../../../core/carton/fold.ts'
import { measured } from '../../../core/carton/measure.ts'
import { boxOf, signedArea } from '../../../core/carton/outline.ts'
import type { CartonSpec } from '../../../core/carton/spec.ts'
import { styleNamed } from '../../../core/carton/style.ts'
import { Leaves } from './leaves.ts'
import { anySize } from './sizes.ts'

const crashLock = (more: Partial<CartonSpec> = {}): Carton =>
  cartonOf({
    ...styleNamed('crash-lock')!,
    lengthMm: 80,
    widthMm: 45,
    heightMm: 120,
    measure: 'outside',
    caliperMm: 0.4,
    own: {},
    code: '',
    ...more,
  })

/** While the body squares up, as shares of the slider. */
const squaring = Array.from({ length: 81 }, (_, i) => 0.28 + (0.16 * i) / 80)

const pairs = [
  { main: 'front', side: 'right side' },
  { main: 'back', side: 'left side' },
] as const

/** Where the glue is: for each pad places of it, with those of the side flap that they are glued under, in both leaves' middles. */
function glued({ blank, meetings }: Carton, amount: number) {
  const placings = fold(blank, amount)
  const at = ({ panel, at: [x, y] }: Carton['meetings'][number]['a']) =>
    placed(placings.get(panel)!, x, y, -blank.caliperMm / 2)
  return meetings
    .filter(({ name }) => name.includes('pad'))
    .map(({ a, b }) => {
      const [pad, flap] = [at(a), at(b)]
      const normal = [2, 5, 8].map(i => placings.get(b.panel)!.turn[i]!)
      const apart = pad.map((value, i) => value - flap[i]!)
      const off = apart.reduce((sum, value, i) => sum + value * normal[i]!, 0)
      const padNormal = [2, 5, 8].map(i => placings.get(a.panel)!.turn[i]!)
      const cos = normal.reduce((sum, value, i) => sum + value * padNormal[i]!, 0)
      return { off, slip: Math.sqrt(Math.max(0, Math.hypot(...apart) ** 2 - off ** 2)), cos }
    })
}

describe('glued from askew to square', () => {
  test.each([0.3, 0.4, 0.8])(
    'board %s mm: pads stay flat on their flaps, a board and its glue apart',
    caliperMm => {
      const made = crashLock({ caliperMm })
      for (const amount of squaring)
        for (const { off, slip, cos } of glued(made, amount)) {
          expect(cos).toBeGreaterThan(Math.cos((0.5 * Math.PI) / 180))
          expect(off / caliperMm).toBeGreaterThan(1)
          expect(off / caliperMm).toBeLessThan(1.15)
          expect(slip).toBeLessThan(2 * caliperMm)
        }
    },
  )

  test('the body is a parallelogram of 55° that becomes a rectangle', () => {
    const { blank } = crashLock()
    const facing = (amount: number, panel: string) =>
      [2, 8].map(i => fold(blank, amount).get(panel)!.turn[i]!)
    for (const [amount, degrees] of [
      [0.28, 55],
      [0.44, 90],
    ] as const) {
      // Outward normals of walls that meet at an angle are turned by what is left of 180°.
      const [x, z] = facing(amount, 'left side')
      expect((Math.atan2(-x!, z!) * 180) / Math.PI).toBeCloseTo(degrees, 6)
      for (const [i, value] of facing(amount, 'back').entries()) expect(value).toBeCloseTo([0, -1][i]!, 9)
    }
  })

  test('while it squares up every flap only goes down', () => {
    const { blank } = crashLock()
    const heights = squaring.map(amount =>
      pairs.map(({ main }) => {
        const placing = fold(blank, amount).get(`bottom ${main} flap`)!
        return Math.max(
          ...panelOf(blank, `bottom ${main} flap`).outline.map(([x, y]) => placed(placing, x, y, 0)[1]),
        )
      }),
    )
    for (const [i, row] of heights.slice(1).entries())
      for (const [k, height] of row.entries()) expect(height).toBeLessThan(heights[i]![k]!)
  })

  test('40 sizes, 60 places on the way: no leaf in another', () => {
    const amounts = Array.from({ length: 60 }, (_, i) => 0.02 + (0.44 * i) / 59)
    fc.assert(
      fc.property(anySize('crash-lock'), size => {
        const leaves = new Leaves(crashLock(size).blank)
        for (const amount of amounts) expect([amount, leaves.passing(amount)]).toEqual([amount, []])
      }),
      { numRuns: 40, seed: 20261130 },
    )
  }, 120_000)

  test.each([
    ['a glued lid', { top: { kind: 'seal', on: 'back' } }],
    ['an open end', { top: { kind: 'open' } }],
    ['a snap-lock', { top: { kind: 'snap-lock' } }],
    ['another one', { top: { kind: 'crash-lock' } }],
    ['its place above', { top: { kind: 'crash-lock' }, bottom: { kind: 'tuck', on: 'front' } }],
  ] as const)('opposite %s', (_, ends) => {
    const { blank } = crashLock(ends)
    const leaves = new Leaves(blank)
    for (let i = 0; i <= 60; i++) expect([i, leaves.passing(i / 60)]).toEqual([i, []])
    for (const [i, size] of [80, 45, 120].entries()) expect(measured(blank).outside[i]).toBeCloseTo(size, 9)
  })
})

describe('square', () => {
  const made = crashLock()
  const { blank } = made
  const placings = fold(blank, 1)

  /** Height of a main flap's middle over the outermost place of the bottom, at x from the left and z from the front. */
  function heightAt(main: string, x: number, z: number): number | null {
    const name = `bottom ${main} flap`
    const { turn, shift } = placings.get(name)!
    // The leaf's plane; then whether its outline holds the place.
    const y =
      (-blank.caliperMm / 2 - (turn[2]! * (x - shift[0]) + turn[8]! * (z - shift[2])) + turn[5]! * shift[1]) /
      turn[5]!
    const local = [x - shift[0], y - shift[1], z - shift[2]]
    const on: Point = [0, 1].map(
      i => turn[i]! * local[0]! + turn[3 + i]! * local[1]! + turn[6 + i]! * local[2]!,
    ) as [number, number]
    return inside(panelOf(blank, name).outline, on) ? y : null
  }

  test('the main flaps cross in the middle: the longer half of each on the shorter half of the other', () => {
    const [left, , right] = boxOf(panelOf(blank, 'front').outline)
    const depth = 45 - 0.4
    const above = { front: 0, back: 0 }
    for (let x = left + 2; x < right; x += 0.5)
      for (let q = 1; q < depth; q += 0.25) {
        const [front, back] = [heightAt('front', x, -q), heightAt('back', x, -q)]
        if (front === null || back === null) continue
        // Apart by their board at least, and the front's on the left alone.
        expect(Math.abs(front - back)).toBeGreaterThan(blank.caliperMm)
        expect(front > back).toBe(x < (left + right) / 2)
        above[front > back ? 'front' : 'back'] += 0.125
      }
    // Each by some 20 mm².
    for (const area of Object.values(above)) expect(area).toBeGreaterThan(20)
  })

  test('the drawing: a reverse crease at 45° from each glued corner, and a glue zone for each pad', () => {
    const folded = blank.die.lines.filter(line => line.kind === 'reverse-crease')
    expect(folded).toHaveLength(2)
    for (const { points } of folded) {
      const [[x1, y1], [x2, y2]] = points as [Point, Point]
      // Places come from sums of lengths up to 300 mm.
      expect(Math.abs(x2 - x1)).toBeCloseTo(Math.abs(y2 - y1), 9)
    }
    expect(blank.die.glue).toHaveLength(3)
  })

  test('glue lies on the side flaps alone, where the pads come: no edge of a zone crosses another', () => {
    fc.assert(
      fc.property(anySize('crash-lock'), size => {
        const { blank } = crashLock(size)
        for (const zone of blank.die.glue.slice(1)) {
          expect(signedArea(zone)).toBeGreaterThan(0.2)
          const flap = blank.panels.find(
            ({ name, outline }) => name.endsWith('side flap') && inside(outline, zone[0]!),
          )!
          for (const [i, at] of zone.entries()) {
            expect(inside(flap.outline, at)).toBe(true)
            const [before, after] = [zone.at(i - 1)!, zone[(i + 1) % zone.length]!]
            const turn = (at[0] - before[0]) * (after[1] - at[1]) - (at[1] - before[1]) * (after[0] - at[0])
            expect(turn).toBeGreaterThan(0)
          }
        }
      }),
      { numRuns: 40, seed: 20261130 },
    )
  })

  test('inside it is as high as its highest place: where the longer halves end', () => {
    // By hand: flaps rise by 1.1 calipers over the overlap, which is 0.175 of 44.6; their creases are 1.05 calipers
    // below those of the side flaps, whose outer face is so much and half a caliper above the carton's.
    const over = 0.175 * 44.6
    const rise = Math.atan((1.1 * 0.4) / over)
    const bottom = (44.6 / 2 + over) * Math.sin(rise) + 2 * 0.2 * Math.cos(rise)
    // The lid takes two calipers above.
    expect(measured(blank).inside[2]).toBeCloseTo(120 - 2 * 0.4 - bottom, 9)
  })
})

test('an overlap too short for the board to cross is refused', () => {
  expect(() => crashLock({ own: { crashOverlapMm: 1.5 } })).toThrow(
    /crash-lock overlap: the flaps go 1.5 mm past the middle, and a board of 0.4 mm needs 1.8 mm/,
  )
})

function inside(outline: readonly Point[], [x, y]: Point): boolean {
  let odd = false
  for (const [i, [ax, ay]] of outline.entries()) {
    const [bx, by] = outline[(i + 1) % outline.length]!
    if (ay > y !== by > y && x < ax + ((y - ay) * (bx - ax)) / (by - ay)) odd = !odd
  }
  return odd
}
