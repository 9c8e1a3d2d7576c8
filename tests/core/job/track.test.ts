import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { damped, judgedTimes } from '../../../core/job/flash-path.ts'
import type { Ease, LampPath, PathKey } from '../../../core/job/job.ts'
import { isClosed, pathLength, samplePath } from '../../../core/job/path.ts'
import { defaultPaths, pathPresets } from '../../../core/job/paths.ts'
import {
  addKey,
  copyKey,
  leastGapS,
  moveKey,
  removeKey,
  setDuration,
  setEase,
  setKey,
  setLoop,
  setOther,
} from '../../../core/job/track.ts'
import { calmDegreesPerSecond, travel } from '../../../core/job/travel.ts'

const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
const pose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
const key = (timeS: number, tiltForwardDeg: number, more: Partial<PathKey> = {}): PathKey => ({
  timeS,
  lamp,
  pose: { ...pose, tiltForwardDeg },
  others: [],
  eye: null,
  ease: 'flow',
  ...more,
})
const path = (loop: boolean, ...keys: PathKey[]): LampPath => ({ name: 'test', loop, keys })
const tilt = (p: LampPath, t: number) => samplePath(p, t).pose.tiltForwardDeg
const speed = (p: LampPath, t: number) => (tilt(p, t + 1e-5) - tilt(p, t)) / 1e-5

const eased = (ease: Ease) => path(false, key(0, 0), key(2, 10, { ease }), key(4, 20), key(6, 26))

describe('how motion passes a key', () => {
  test('flowing it goes through, resting it stops', () => {
    expect(speed(eased('flow'), 2)).toBeGreaterThan(3)
    expect(Math.abs(speed(eased('rest'), 2))).toBeLessThan(1e-3)
    expect(Math.abs(speed(eased('rest'), 1.9999))).toBeLessThan(0.01)
  })

  test('evenly it leaves at one speed, and is met at that speed', () => {
    const even = eased('even')
    for (const t of [2.01, 2.7, 3.99]) expect(speed(even, t)).toBeCloseTo(5, 4)
    expect(speed(even, 1.9999)).toBeCloseTo(5, 1)
    expect(speed(even, 4.00001)).toBeCloseTo(5, 1)
  })

  test('holding it stays until the next key', () => {
    const held = eased('hold')
    expect(tilt(held, 3.999)).toBe(10)
    expect(tilt(held, 4)).toBe(20)
    expect(Math.abs(speed(held, 1.9999))).toBeLessThan(0.01)
  })

  test('whatever the keys say, a value stays between its two keys', () => {
    const stop = fc.record({
      wait: fc.integer({ min: 1, max: 40 }),
      value: fc.integer({ min: -40, max: 40 }),
      ease: fc.constantFrom<Ease[]>('flow', 'rest', 'even', 'hold'),
    })
    fc.assert(
      fc.property(fc.array(stop, { minLength: 2, maxLength: 7 }), fc.boolean(), (stops, loop) => {
        let t = 0
        const keys = stops.map(({ wait, value, ease }, i) => {
          t += i === 0 ? 0 : wait / 10
          return key(t, value, { ease })
        })
        const made = path(loop, ...keys)
        for (const [i, a] of made.keys.entries()) {
          const b = made.keys[i + 1]
          if (b === undefined) continue
          const [low, high] = [a.pose.tiltForwardDeg, b.pose.tiltForwardDeg].sort((p, q) => p - q)
          for (const f of [0.1, 0.35, 0.6, 0.9]) {
            const value = tilt(made, a.timeS + f * (b.timeS - a.timeS))
            expect(value).toBeGreaterThanOrEqual(low! - 1e-9)
            expect(value).toBeLessThanOrEqual(high! + 1e-9)
          }
        }
      }),
    )
  })
})

describe('what only some keys name', () => {
  const spot = { ...lamp, azimuthDeg: 0 }
  const eye = { distanceMm: 400, sideDeg: 0, riseDeg: 0 }
  const made = path(
    false,
    key(0, 0),
    key(2, 0, { others: [spot], eye }),
    key(3, 0),
    key(4, 0, { others: [{ ...spot, azimuthDeg: 40 }, null], eye: { ...eye, sideDeg: 20 } }),
    key(6, 0),
  )

  test('moves between those, past the others', () => {
    expect(samplePath(made, 3).others[0]?.azimuthDeg).toBeCloseTo(20, 9)
    expect(samplePath(made, 3).eye?.sideDeg).toBeCloseTo(10, 9)
  })

  test('and stands before the first and after the last', () => {
    for (const t of [0, 1, 1.99]) expect(samplePath(made, t).others[0]?.azimuthDeg).toBeCloseTo(0, 9)
    for (const t of [4.01, 6]) expect(samplePath(made, t).eye?.sideDeg).toBeCloseTo(20, 9)
    expect(samplePath(made, 5).others[1]).toBeNull()
  })

  test('a loop is closed only if lamps and eye come back too', () => {
    const closed = path(true, key(0, 0), key(2, 8), key(4, 0))
    expect(isClosed(closed)).toBe(true)
    // Set at the first key, a lamp is set at the last one too.
    const lit = setOther(setOther(closed, 0, 0, spot), 1, 0, { ...spot, azimuthDeg: 50 })
    expect(lit.keys[2]?.others[0]).toEqual(spot)
    expect(isClosed(lit)).toBe(true)
    const astray = (i: number, more: Partial<PathKey>) => ({
      ...closed,
      keys: closed.keys.map((one, n) =>
        n === i ? { ...one, ...more } : n === 0 ? { ...one, others: [spot], eye } : one,
      ),
    })
    expect(isClosed(astray(2, { others: [{ ...spot, azimuthDeg: 50 }] }))).toBe(false)
    expect(isClosed(astray(1, { eye: { ...eye, sideDeg: 5 } }))).toBe(false)
    expect(isClosed(astray(1, { others: [spot], eye }))).toBe(true)
  })
})

describe('keys', () => {
  const three = path(false, key(0, 0), key(4, 8), key(8, 0))

  test('a key put on the path changes nothing there', () => {
    const { path: more, index } = addKey(three, 2)
    expect(index).toBe(1)
    expect(more.keys.map(one => one.timeS)).toEqual([0, 2, 4, 8])
    expect(tilt(more, 2)).toBeCloseTo(tilt(three, 2), 9)
  })

  test('where a key is already, it takes the standpoint', () => {
    const { path: same, index } = addKey(three, 4.04, {
      ...samplePath(three, 4),
      pose: { ...pose, turnDeg: 3 },
    })
    expect(index).toBe(1)
    expect(same.keys).toHaveLength(3)
    expect(same.keys[1]?.pose.turnDeg).toBe(3)
  })

  test('past the end a key makes the path longer', () => {
    expect(pathLength(addKey(three, 11).path)).toBe(11)
  })

  test('it moves between its neighbours, the first not at all', () => {
    expect(moveKey(three, 1, 99).keys[1]?.timeS).toBe(8 - leastGapS)
    expect(moveKey(three, 1, -3).keys[1]?.timeS).toBe(leastGapS)
    expect(moveKey(three, 0, 2)).toBe(three)
    expect(pathLength(moveKey(three, 2, 20))).toBe(20)
  })

  test('what is left after the first begins at 0 s; the only one stays', () => {
    expect(removeKey(three, 0).path.keys.map(one => one.timeS)).toEqual([0, 4])
    const one = path(false, key(0, 1))
    expect(removeKey(one, 0).path).toBe(one)
  })

  test('a copy waits where its key stands', () => {
    const { path: waits, index } = copyKey(three, 1)
    expect(index).toBe(2)
    for (const t of [4, 5, 6]) expect(tilt(waits, t)).toBe(8)
    expect(pathLength(copyKey(three, 2).path)).toBe(12)
  })

  test('the two ends of a closed loop are one key', () => {
    const loop = path(true, key(0, 0), key(4, 8), key(8, 0))
    const moved = setKey(loop, 0, { pose: { ...pose, tiltForwardDeg: 5 } })
    expect(isClosed(moved)).toBe(true)
    expect(moved.keys[2]?.pose.tiltForwardDeg).toBe(5)
  })

  test('a path that becomes a loop comes back to its beginning, calmly', () => {
    const open = path(false, key(0, 0), key(4, 20))
    const loop = setLoop(open, true)
    expect(isClosed(loop)).toBe(true)
    // 20° at half of 10° a second.
    expect(pathLength(loop)).toBe(8)
    expect(setLoop(loop, true)).toEqual(loop)
  })

  test('a new length is shared out over all keys', () => {
    expect(setDuration(three, 16).keys.map(one => one.timeS)).toEqual([0, 8, 16])
    expect(pathLength(setDuration(three, 0))).toBeCloseTo(2 * leastGapS, 9)
  })

  test('an edit of a key that is not there leaves the path alone', () => {
    expect(setEase(three, 9, 'rest')).toBe(three)
    expect(copyKey(three, 9).path).toBe(three)
    expect(removeKey(three, 9).path).toBe(three)
  })
})

// Project's own rule: nothing that plays by itself turns by more than 10° a second, eye included.
test.each([...defaultPaths, ...pathPresets.map(one => one.path)].map(one => [one.name, one] as const))(
  '%s is closed and calm',
  (_, made) => {
    expect(isClosed(made)).toBe(true)
    const dt = 0.02
    let fastest = 0
    for (let t = 0; t < pathLength(made); t += dt)
      fastest = Math.max(fastest, travel(samplePath(made, t), samplePath(made, t + dt)) / dt)
    expect(fastest).toBeLessThanOrEqual(calmDegreesPerSecond)
  },
)

describe('damping', () => {
  const quick = path(false, key(0, 0, { ease: 'even' }), key(1, 30, { ease: 'hold' }), key(2, 0), key(6, 10))

  test('slows what flashes, as much as its flashes ask for, and moves the rest', () => {
    const slow = damped(quick, [{ fromS: 0.2, toS: 0.8, kind: 'general', part: 1, flashes: 6 }])
    // 6 flashes where 3 may be, and 15 % more.
    expect(slow.keys.map(one => one.timeS)).toEqual([0, 2.3, 3.3, 7.3])
    expect(slow.keys.map(one => one.ease)).toEqual(['flow', 'hold', 'flow', 'flow'])
  })

  test('a path without flashes stays as it is', () => {
    expect(damped(quick, [])).toEqual(quick)
  })

  test('a flash over the seam of a loop slows both its ends', () => {
    const loop = path(true, key(0, 0), key(2, 10), key(4, 5), key(6, 0))
    const slow = damped(loop, [{ fromS: 5.6, toS: 6.4, kind: 'red', part: 1, flashes: 4 }])
    expect(slow.keys[1]!.timeS).toBeGreaterThan(2)
    expect(slow.keys[2]!.timeS - slow.keys[1]!.timeS).toBeCloseTo(2, 9)
    expect(pathLength(slow)).toBeGreaterThan(8)
  })
})

test('a closed loop is judged over its seam', () => {
  const loop = path(true, key(0, 0), key(2, 10), key(4, 0))
  expect(judgedTimes(loop).at(-1)).toBe(5)
  expect(judgedTimes({ ...loop, loop: false }).at(-1)).toBe(4)
  expect(judgedTimes(path(false, key(0, 0)))).toEqual([0])
})
