import fc from 'fast-check'
import { expect, test } from 'vitest'
import { Pace } from '../../../renderer/stage/pace.ts'

/** A machine that takes this long for the whole canvas, and a little for any frame. */
function settle(wholeMs: number, pace: Pace, frames = 60): number[] {
  const sides: number[] = []
  for (let i = 0; i < frames; i++) {
    pace.took(2 + wholeMs * pace.side ** 2)
    sides.push(pace.side)
  }
  return sides
}

test('a quick machine draws the whole canvas', () => {
  expect(settle(5, new Pace(30, 0.5)).at(-1)).toBe(1)
})

test('a slow one is coarser from the next frame on', () => {
  const pace = new Pace(30, 1)
  pace.took(110)
  expect(pace.side).toBe(0.5)
})

test('no machine is too slow to be drawn for', () => {
  const pace = new Pace(30, 1)
  pace.took(1e6)
  expect(pace.side).toBe(0.18)
})

test('a machine that stays as it is sees one size, and frames in their time where any size allows it', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.5, max: 400, noNaN: true }), wholeMs => {
      const pace = new Pace(30, 0.5)
      const sides = settle(wholeMs, pace)
      expect(new Set(sides.slice(30)).size).toBe(1)
      if (2 + wholeMs * 0.18 ** 2 <= 30) expect(2 + wholeMs * pace.side ** 2).toBeLessThanOrEqual(30)
    }),
  )
})
