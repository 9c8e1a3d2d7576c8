import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { LampPath } from '../../core/job/job.ts'
import { pathLength, samplePath } from '../../core/job/path.ts'
import { defaultPaths } from '../../core/job/paths.ts'
import { withStop } from '../../core/job/track.ts'
import { calmDegreesPerSecond, travel } from '../../core/job/travel.ts'
import { straightOn } from '../../renderer/stage/angles.ts'
import { advanced } from '../../renderer/state/run.ts'
import { runStart } from '../../renderer/state/state.ts'

const lamp = { azimuthDeg: 0, elevationDeg: 45, distanceMm: 500, diameterMm: 20 }
const stand = (azimuthDeg: number, tiltSideDeg = 0) => ({
  lamp: { ...lamp, azimuthDeg },
  pose: { ...straightOn, tiltSideDeg },
  others: [],
  eye: null,
})
/** Half a turn in half a second. */
const hasty: LampPath = {
  name: 'hasty',
  loop: false,
  keys: [
    { timeS: 0, ...stand(-90), ease: 'flow' },
    { timeS: 0.5, ...stand(90, 60), ease: 'flow' },
  ],
}

describe('light run', () => {
  it('a calm run never moves lamp or panel faster than 10° a second, whatever the keys say', () => {
    // WCAG 2.3.1 allows three flashes a second; a run this slow cannot reach them. The limit itself is the project's.
    const frame = fc.double({ min: 1 / 240, max: 0.1, noNaN: true })
    fc.assert(
      fc.property(fc.array(frame, { minLength: 5, maxLength: 80 }), frames => {
        let run = { ...runStart, timeS: 0, playing: true }
        for (const elapsed of frames) {
          const next = advanced(run, hasty, elapsed)
          const moved = travel(samplePath(hasty, run.timeS), samplePath(hasty, next.timeS ?? 0))
          expect(moved).toBeLessThanOrEqual(calmDegreesPerSecond * elapsed * (1 + 1e-9))
          run = { ...next, timeS: next.timeS ?? 0 }
        }
      }),
    )
  })

  it('a run as keyed follows its own times', () => {
    const run = { ...runStart, timeS: 0, playing: true, pace: 'asKeyed' as const }
    expect(advanced(run, hasty, 0.1).timeS).toBeCloseTo(0.1, 12)
  })

  it('an open run stops at its end, a closed loop goes on', () => {
    const end = advanced({ ...runStart, timeS: 0.49, playing: true, pace: 'asKeyed' }, hasty, 1)
    expect(end).toMatchObject({ timeS: 0.5, playing: false })
    const tilt = defaultPaths[0]
    if (tilt === undefined) throw new Error('no default path')
    // Its last key, at 16 s, is where it began.
    const over = advanced({ ...runStart, timeS: 15.9, playing: true, pace: 'asKeyed' }, tilt, 0.2)
    expect(over.playing).toBe(true)
    expect(over.timeS).toBeCloseTo(0.1, 9)
  })

  it('the paths of a fresh job are calm as they are: none is slowed down', () => {
    for (const path of defaultPaths) {
      for (let t = 0; t < pathLength(path); t += 0.1) {
        const next = advanced({ ...runStart, timeS: t, playing: true }, path, 0.05)
        const asKeyed = advanced({ ...runStart, timeS: t, playing: true, pace: 'asKeyed' }, path, 0.05)
        expect(next.timeS).toBe(asKeyed.timeS)
      }
    }
  })

  it('a stop is added at the end, and reached calmly', () => {
    const one = withStop({ name: 'mine', loop: false, keys: [] }, stand(0))
    expect(one.keys).toEqual([{ timeS: 0, ...stand(0), ease: 'flow' }])
    const two = withStop(one, stand(0, 40))
    // 40° at half of 10° a second.
    expect(two.keys[1]?.timeS).toBe(8)
    expect(withStop(two, stand(0, 40)).keys[2]?.timeS).toBeGreaterThan(8)
  })
})
