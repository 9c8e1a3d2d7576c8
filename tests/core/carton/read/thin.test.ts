import { expect, test } from 'vitest'
import type { Point } from '../../../../core/carton/die.ts'
import { thinned } from '../../../../core/carton/read/thin.ts'
import { chanceOf } from './random-die.ts'

const distanceTo = (lines: readonly Point[], [x, y]: Point) =>
  Math.min(
    ...lines.slice(1).map(([bx, by], i) => {
      const [ax, ay] = lines[i]!
      const [dx, dy] = [bx - ax, by - ay]
      const whole = dx * dx + dy * dy
      const t = whole === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * dx + (y - ay) * dy) / whole))
      return Math.hypot(x - ax - t * dx, y - ay - t * dy)
    }),
  )

test('no point of a line strays from what is left of it by more than the tolerance', () => {
  for (let seed = 1; seed <= 200; seed++) {
    const chance = chanceOf(seed)
    let [x, y, heading] = [0, 0, 0]
    const points = Array.from({ length: 100 }, (): Point => {
      heading += (chance() - 0.5) * (chance() < 0.1 ? 6 : 0.2)
      const step = chance() * 0.3
      x += step * Math.cos(heading)
      y += step * Math.sin(heading)
      return [x, y]
    })
    const kept = thinned(points, 0.02)
    expect(kept[0]).toBe(points[0])
    expect(kept.at(-1)).toBe(points.at(-1))
    // The cone passes each point within the tolerance of the way from one kept point to the next, seen from the first;
    // where that way ends within the tolerance beside it, twice.
    for (const point of points) expect(distanceTo(kept, point)).toBeLessThanOrEqual(2 * 0.02)
  }
})

test('a straight line is its ends, and a way back stays', () => {
  const out = Array.from({ length: 50 }, (_, i): Point => [i, 0])
  expect(thinned(out, 0.02)).toEqual([
    [0, 0],
    [49, 0],
  ])
  expect(thinned([...out, [20, 0], [20, 5]], 0.02)).toEqual([
    [0, 0],
    [49, 0],
    [20, 0],
    [20, 5],
  ])
  expect(
    thinned(
      [
        [0, 0],
        [0, 0],
        [0, 0],
      ],
      0.02,
    ),
  ).toEqual([
    [0, 0],
    [0, 0],
  ])
})
