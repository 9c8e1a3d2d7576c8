import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { LampPath } from '../../../core/job/job.ts'
import { frameTimes, isClosed, pathLength, type Standpoint, samplePath } from '../../../core/job/path.ts'
import { defaultPaths } from '../../../core/job/paths.ts'
import { lampPosition, panelRotation } from '../../../core/reference/pose.ts'

const flat = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
/** Only lamp and panel move. */
const alone = { others: [], eye: null, ease: 'flow' } as const
const through = (loop: boolean, ...tilts: readonly [timeS: number, tilt: number][]): LampPath => ({
  name: 'test',
  loop,
  keys: tilts.map(([timeS, tiltForwardDeg]) => ({
    timeS,
    lamp,
    pose: { ...flat, tiltForwardDeg },
    ...alone,
  })),
})
const tilt = (path: LampPath, t: number) => samplePath(path, t).pose.tiltForwardDeg

const angle = (a: readonly number[], b: readonly number[]) => {
  const dot = a[0]! * b[0]! + a[1]! * b[1]! + a[2]! * b[2]!
  return (Math.acos(Math.min(1, dot / (Math.hypot(...a) * Math.hypot(...b)))) * 180) / Math.PI
}
/** The largest turn of lamp or panel between two moments, degrees. */
const turned = (a: Standpoint, b: Standpoint) =>
  Math.max(
    angle(lampPosition(a.lamp), lampPosition(b.lamp)),
    ...[0, 1, 2].map(row => angle(panelRotation(a.pose)[row]!, panelRotation(b.pose)[row]!)),
  )

describe('samplePath', () => {
  test('meets every key', () => {
    const path = through(false, [0, 0], [2, 10], [3, -4], [7, 5])
    for (const key of path.keys) expect(tilt(path, key.timeS)).toBeCloseTo(key.pose.tiltForwardDeg, 12)
  })

  test('an open path rests at both ends', () => {
    const path = through(false, [0, 0], [4, 8])
    expect(tilt(path, -3)).toBe(0)
    expect(tilt(path, 99)).toBe(8)
    expect(tilt(path, 2)).toBeCloseTo(4, 12)
    expect(tilt(path, 1e-3) / 1e-3).toBeLessThan(0.01)
  })

  test('evenly spaced keys on a line give the line', () => {
    const path = through(true, [0, 0], [1, 5], [2, 10], [3, 15], [5, 0])
    expect(tilt(path, 1.5)).toBeCloseTo(7.5, 12)
  })

  test('stays between its keys and has no jump in speed', () => {
    const step = fc.tuple(fc.integer({ min: 1, max: 50 }), fc.integer({ min: -40, max: 40 }))
    fc.assert(
      fc.property(fc.array(step, { minLength: 1, maxLength: 6 }), fc.boolean(), (steps, loop) => {
        let t = 0
        const keys = steps.map(([wait, value]): [number, number] => {
          t += wait / 10
          return [t, value]
        })
        const path = through(loop, [0, keys.at(-1)![1]], ...keys)
        const h = 1e-5
        for (const [i, key] of path.keys.entries()) {
          const before = (tilt(path, key.timeS) - tilt(path, key.timeS - h)) / h
          const after = (tilt(path, key.timeS + h) - tilt(path, key.timeS)) / h
          // Curvature over one step of 1e-5 s: the steepest test path turns by 80° in 0.1 s.
          expect(Math.abs(before - after)).toBeLessThan(0.6)
          const next = path.keys[i + 1]
          if (next === undefined) continue
          const low = Math.min(key.pose.tiltForwardDeg, next.pose.tiltForwardDeg)
          const high = Math.max(key.pose.tiltForwardDeg, next.pose.tiltForwardDeg)
          for (let f = 0.1; f < 1; f += 0.2) {
            const value = tilt(path, key.timeS + f * (next.timeS - key.timeS))
            expect(value).toBeGreaterThanOrEqual(low - 1e-9)
            expect(value).toBeLessThanOrEqual(high + 1e-9)
          }
        }
      }),
    )
  })

  test('a closed loop repeats', () => {
    const path = through(true, [0, 0], [2, 10], [5, -10], [6, 0])
    expect(isClosed(path)).toBe(true)
    for (const t of [0, 0.7, 3.3, 5.99]) expect(tilt(path, t + 12)).toBeCloseTo(tilt(path, t), 9)
  })

  test('azimuth goes the short way round', () => {
    const path: LampPath = {
      name: 'test',
      loop: false,
      keys: [
        { timeS: 0, lamp: { ...lamp, azimuthDeg: 350 }, pose: flat, ...alone },
        { timeS: 2, lamp: { ...lamp, azimuthDeg: 10 }, pose: flat, ...alone },
      ],
    }
    expect(samplePath(path, 1).lamp.azimuthDeg).toBeCloseTo(360, 9)
  })

  test('a single key stands still', () => {
    expect(tilt(through(true, [0, 7]), 3)).toBe(7)
  })

  test('a path without keys is refused', () => {
    expect(() => samplePath(through(false), 0)).toThrow('at least one key')
  })
})

describe('frameTimes', () => {
  test('an open path shows both ends', () => {
    expect(frameTimes(through(false, [0, 0], [6, 9]), 4)).toEqual([0, 2, 4, 6])
    expect(frameTimes(through(false, [0, 0], [6, 9]), 1)).toEqual([0])
  })
  test('a closed loop leaves out its end', () => {
    expect(frameTimes(through(true, [0, 0], [3, 9], [6, 0]), 4)).toEqual([0, 1.5, 3, 4.5])
  })
  test('a loop that does not close is an open path', () => {
    expect(isClosed(through(true, [0, 0], [6, 9]))).toBe(false)
    expect(frameTimes(through(true, [0, 0], [6, 9]), 2)).toEqual([0, 6])
  })
})

// A trade rule of ours: lit holography must not strobe, so nothing turns by more than 10° a second on its own.
test.each(defaultPaths.map(path => [path.name, path] as const))('%s is closed and calm', (_, path) => {
  expect(isClosed(path)).toBe(true)
  const dt = 0.01
  let fastest = 0
  for (let t = 0; t < pathLength(path); t += dt)
    fastest = Math.max(fastest, turned(samplePath(path, t), samplePath(path, t + dt)) / dt)
  expect(fastest).toBeLessThanOrEqual(10)
})

test.each(defaultPaths.filter(path => path.keys.length > 1).map(path => [path.name, path] as const))(
  '%s shows something new in each of a few frames',
  (_, path) => {
    for (const count of [2, 3, 4, 5, 6, 8, 12]) {
      const stood = frameTimes(path, count).map(time => samplePath(path, time))
      for (const [i, a] of stood.entries())
        for (const b of stood.slice(i + 1)) expect(turned(a, b)).toBeGreaterThan(1)
    }
  },
)
