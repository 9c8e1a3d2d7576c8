import { describe, expect, it } from 'vitest'
import { ellipse, fitted, rectangle, splitSide, withoutPoint, withPoint } from '../../../core/effects/draw.ts'
import { boundsOf, type Outline, type PointMm } from '../../../core/effects/outline.ts'

const area = (ring: readonly PointMm[]) =>
  ring.reduce((sum, [x, y], i) => sum + (ring.at(i - 1)![0] * y - x * ring.at(i - 1)![1]) / 2, 0)
const outline = (ring: readonly PointMm[]): Outline => ({ id: 'a', name: 'Lens ring', rings: [ring] })

describe('drawn shapes', () => {
  it('are as large as their corners say, whichever two they are', () => {
    for (const [a, b] of [
      [
        [10, 20],
        [40, 35],
      ],
      [
        [40, 35],
        [10, 20],
      ],
      [
        [40, 20],
        [10, 35],
      ],
    ] as const) {
      expect(Math.abs(area(rectangle(a, b)))).toBe(450)
      // π a b, less what a polygon of 96 sides lacks: sin(2π/n) / (2π/n) = 0.9993.
      expect(area(ellipse(a, b)) / (Math.PI * 15 * 7.5)).toBeCloseTo(0.9993, 4)
      expect(boundsOf(outline(rectangle(a, b)))).toEqual({ leftMm: 10, rightMm: 40, bottomMm: 20, topMm: 35 })
    }
  })

  it('get, lose and move points, and keep three', () => {
    const square = outline(rectangle([0, 0], [10, 10]))
    const more = splitSide(square, 0, 3)
    expect(more.rings[0]).toEqual([
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
      [0, 5],
    ])
    const arrow = withPoint(more, 0, 4, [4, 5])
    // A triangle of 10 × 4 / 2 is cut out of it.
    expect(area(arrow.rings[0]!)).toBe(80)
    let fewer = arrow
    for (let i = 0; i < 9; i++) fewer = withoutPoint(fewer, 0, 0)
    expect(fewer.rings[0]).toHaveLength(3)
  })

  it('fit into other bounds', () => {
    const moved = fitted(outline(ellipse([0, 0], [10, 10])), {
      leftMm: 5,
      bottomMm: -3,
      widthMm: 20,
      heightMm: 10,
    })
    const bounds = boundsOf(moved)!
    expect(bounds.leftMm).toBeCloseTo(5, 12)
    expect(bounds.topMm).toBeCloseTo(7, 12)
    expect(bounds.rightMm - bounds.leftMm).toBeCloseTo(20, 12)
    const line = fitted(
      outline([
        [1, 1],
        [1, 5],
      ]),
      { leftMm: 0, bottomMm: 0, widthMm: 9, heightMm: 8 },
    )
    expect(line.rings[0]).toEqual([
      [0, 0],
      [0, 8],
    ])
  })
})
