import { describe, expect, test } from 'vitest'
import type { Piece } from '../../../core/checks/legibility/letters.ts'
import { pointsOf, typeSize } from '../../../core/checks/type-size.ts'

/** Letters in a line, by height over the baseline and depth below it, mm. */
const line = (letters: readonly (readonly [height: number, depth: number])[], rotated = false): Piece[] =>
  letters.map(([height, depth], i) => {
    // Letters are not all as wide as each other.
    const leftMm = i * 1.3 + 0.05 * Math.sin(9 * i)
    const rightMm = leftMm + 0.9 + 0.2 * Math.sin(5 * i)
    const upright = { leftMm, rightMm, bottomMm: 10 - depth, topMm: 10 + height }
    return rotated
      ? { leftMm: 20 - upright.topMm, rightMm: 20 - upright.bottomMm, bottomMm: leftMm, topMm: rightMm }
      : upright
  })
const x = [1.2, 0] as const
const tall = [1.75, 0] as const
const low = [1.2, 0.5] as const

describe('point size and x-height', () => {
  // Point 25.4/72 mm; ratios of common faces. Worked: pt = x / (ratio · 0.35278), printed to 0.01.
  test.each([
    [1.2, [7.56, 7.09, 6.8, 6.54]],
    [0.9, [5.67, 5.31, 5.1, 4.91]],
  ] as const)('x-height %f mm', (height, points) => {
    for (const [i, ratio] of [0.45, 0.48, 0.5, 0.52].entries())
      expect(Math.abs(pointsOf(height, ratio) - points[i]!)).toBeLessThanOrEqual(0.0051)
  })
})

describe('type read from its letters', () => {
  test('small letters among tall ones give the x-height', () => {
    const size = typeSize(line([tall, x, x, low, x, tall, x, x, x, low]), null, 0.48)!
    expect(size.from).toBe('small letters')
    expect(size.xHeightMm).toBeCloseTo(1.2, 9)
    expect(size.points).toBeCloseTo(7.09, 2)
    expect(size.upright).toBe(false)
  })

  test('letters of one height are capitals, unless the text says that they are small', () => {
    const pieces = line([x, x, x, x, x])
    expect(typeSize(pieces, null, 0.48)).toMatchObject({ from: 'capitals' })
    expect(typeSize(pieces, 'HALOS', 0.48)!.points).toBeCloseTo(1.2 / (0.7 * 0.352778), 2)
    expect(typeSize(pieces, 'sea norm', 0.48)!.xHeightMm).toBeCloseTo(1.2, 9)
  })

  test('dots and commas do not count, and lines may run up the label', () => {
    const dot: Piece = { leftMm: 3, rightMm: 3.1, bottomMm: 10, topMm: 10.15 }
    expect(typeSize([...line([x, tall, x, x, tall]), dot, dot], null, 0.48)!.xHeightMm).toBeCloseTo(1.2, 9)
    const up = typeSize(line([tall, x, x, tall, x, x, low, x, x, x], true), null, 0.48)!
    expect(up.upright).toBe(true)
    expect(up.xHeightMm).toBeCloseTo(1.2, 9)
  })

  test('nothing has no size', () => expect(typeSize([], 'HALO', 0.48)).toBeNull())
})
