import { describe, expect, it } from 'vitest'
import { movedBy, pinched, wheelFactor, zoomedAt } from '../../renderer/stage/pinch.ts'

/** Plane geometry; no outside source. */

describe('a hand that moves the view', () => {
  it('takes what lies under it along, and lets a whole panel lie', () => {
    const size = { width: 1000, height: 500 }
    const near = zoomedAt({ scale: 1, x: 0, y: 0 }, 4, [500, 250], size)
    // What lay 50 pixels to the right of the middle and 25 above it is in the middle now.
    const moved = movedBy(near, -50, 25, size.height)
    expect(moved).toEqual({ scale: 4, x: 50 / (250 * 4), y: 25 / (250 * 4) })
    expect(movedBy({ scale: 1, x: 0, y: 0 }, 50, 25, size.height)).toEqual({ scale: 1, x: 0, y: 0 })
  })
})

describe('two fingers', () => {
  it('twice as far apart is twice as near; a turn to the left on the glass turns to the left', () => {
    const from = [
      [100, 100],
      [200, 100],
    ] as const
    expect(
      pinched(from, [
        [50, 100],
        [250, 100],
      ]),
    ).toEqual({ factor: 2, turnDeg: expect.closeTo(0, 9) })
    // The right finger goes up: counter-clockwise as seen.
    const up = pinched(from, [
      [100, 100],
      [100, 0],
    ])
    expect(up.factor).toBeCloseTo(1, 9)
    expect(up.turnDeg).toBeCloseTo(90, 9)
  })

  it('fingers on one spot say nothing', () => {
    expect(
      pinched(
        [
          [1, 1],
          [1, 1],
        ],
        [
          [1, 1],
          [9, 1],
        ],
      ),
    ).toEqual({ factor: 1, turnDeg: 0 })
  })
})

describe('looking closer', () => {
  const size = { width: 800, height: 600 }
  /** Where a place of the unenlarged view is seen, CSS pixels from the corner. */
  const seen = (zoom: { scale: number; x: number; y: number }, u: readonly [number, number]) => [
    size.width / 2 + ((u[0] - zoom.x) * zoom.scale * size.height) / 2,
    size.height / 2 - ((u[1] - zoom.y) * zoom.scale * size.height) / 2,
  ]

  it('the place under the pointer stays there', () => {
    const first = zoomedAt({ scale: 1.5, x: 0.1, y: -0.2 }, 1.7, [620, 130], size)
    const u = [0.1 + (2 * 620 - 800) / 600 / 1.5, -0.2 + (600 - 2 * 130) / 600 / 1.5] as const
    const [x, y] = seen(first, u)
    expect(x).toBeCloseTo(620, 6)
    expect(y).toBeCloseTo(130, 6)
  })

  it('from farther off the panel is whole and in the middle', () => {
    expect(zoomedAt({ scale: 1.2, x: 0.4, y: 0.4 }, 0.5, [10, 10], size)).toEqual({ scale: 0.6, x: 0, y: 0 })
  })

  it('wheels that count lines and pages move it too, and back again', () => {
    expect(wheelFactor({ deltaY: 3, deltaMode: 1, ctrlKey: false })).toBeLessThan(1)
    const on = wheelFactor({ deltaY: -100, deltaMode: 0, ctrlKey: false })
    const back = wheelFactor({ deltaY: 100, deltaMode: 0, ctrlKey: false })
    expect(on * back).toBeCloseTo(1, 12)
  })
})
