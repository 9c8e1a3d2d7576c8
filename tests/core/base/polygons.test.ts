import { expect, test } from 'vitest'
import { grown } from '../../../core/base/polygons.ts'

const area = (polygon: readonly (readonly [number, number])[]) =>
  polygon.reduce((sum, [x, y], i) => {
    const [nx, ny] = polygon[(i + 1) % polygon.length]!
    return sum + (x * ny - nx * y) / 2
  }, 0)

test('two squares with a common edge grow as one: a law of areas', () => {
  const squares = [
    [
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ],
    [
      [10, 0],
      [20, 0],
      [20, 10],
      [10, 10],
    ],
  ] as const
  const [outline, ...more] = grown(squares, 3)
  expect(more).toEqual([])
  // Steiner's formula: area + girth · r + π r²; the arcs keep within r / 500, so the circle's part within 0.4 %.
  const expected = 200 + 60 * 3 + Math.PI * 9
  expect(Math.abs(area(outline!) - expected)).toBeLessThan(0.004 * Math.PI * 9 + 0.01)
})

test('reach 0 is the union', () => {
  const [outline] = grown(
    [
      [
        [0, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      ],
      [
        [5, 5],
        [15, 5],
        [15, 15],
        [5, 15],
      ],
    ],
    0,
  )
  expect(area(outline!)).toBeCloseTo(175, 3)
})
