import { describe, expect, test } from 'vitest'
import { spreadOver } from '../../../../core/checks/glare/spread-pixels.ts'
import { allPixels } from '../../../../core/checks/sweep/map-pixels.ts'

const size = { width: 300, height: 200 }
const all = allPixels(size)
/** Dark to the left, bright to the right, with dark spots. */
const bright = Uint8Array.from(all, pixel => (pixel % 7 === 0 ? 20 : 30 + Math.floor((pixel % 300) / 2)))
/** Something that goes with brightness, and with the place. */
const light = (pixel: number): number =>
  bright[pixel]! * (1 + Math.sin(Math.floor(pixel / 300) / 30)) + (pixel % 300 > 200 ? 90 : 0)
const truth = all.reduce((sum, pixel) => sum + light(pixel), 0) / all.length

describe('pixels spread over a set', () => {
  const spread = spreadOver(size, all, bright)

  test('have its mean, in the mean over many draws, counted either way', () => {
    for (const by of ['count', 'near'] as const) {
      const means = Array.from({ length: 60 }, (_, draw) => {
        const chosen = spread(150, draw)
        const total = chosen.reduce((sum, one) => sum + one[by] * light(one.row * 300 + one.column), 0)
        return total / all.length
      })
      const mean = means.reduce((sum, one) => sum + one, 0) / means.length
      const variance = means.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (means.length - 1)
      // Four deviations of a mean of 60 draws: one time in 16 000 by chance.
      expect(Math.abs(mean - truth)).toBeLessThan(4 * Math.sqrt(variance / means.length) + 0.002 * truth)
      expect(Math.sqrt(variance)).toBeLessThan(0.05 * truth)
    }
  })

  test('are about as many as are asked for, and sum to the set; a small set is taken whole', () => {
    for (const most of [30, 200, 1500]) {
      const chosen = spread(most)
      expect(chosen.length).toBeGreaterThan(0.6 * most)
      expect(chosen.length).toBeLessThan(1.7 * most)
      expect(chosen.reduce((sum, { count }) => sum + count, 0)).toBeCloseTo(all.length, 3)
    }
    const few = spreadOver(size, all.slice(0, 40), bright)(40)
    const found = few.map(({ column, count }) => [column, count] as const).toSorted(([a], [b]) => a - b)
    expect(found).toEqual(Array.from({ length: 40 }, (_, i) => [i, 1]))
  })

  test('stay where they are when the set changes elsewhere', () => {
    const chosen = new Set(spread(200, 3).map(({ column, row }) => `${column} ${row}`))
    const without = all.filter(pixel => Math.hypot((pixel % 300) - 60, Math.floor(pixel / 300) - 60) > 12)
    const after = spreadOver(size, without, bright)(200, 3)
    const moved = after.filter(({ column, row }) => !chosen.has(`${column} ${row}`))
    expect(moved.length).toBeLessThan(0.05 * after.length)
    for (const { column, row } of moved) expect(Math.hypot(column - 60, row - 60)).toBeLessThan(45)
  })
})
