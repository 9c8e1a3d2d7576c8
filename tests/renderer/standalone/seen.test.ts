import { describe, expect, it } from 'vitest'
import { cartonFor } from '../../../core/job/carton.ts'
import { setCarton } from '../../../core/job/edit.ts'
import { samplePath } from '../../../core/job/path.ts'
import { defaultPaths } from '../../../core/job/paths.ts'
import { rigs } from '../../../core/job/rigs.ts'
import { sceneAt, sceneWith } from '../../../core/job/scene.ts'
import { versionOf } from '../../../core/proof/version.ts'
import { asPrinted } from '../../../core/reference/overlay.ts'
import { turnOf } from '../../../renderer/standalone/phone-tilt.ts'
import { firstSeen, outOfRun, sceneMaker } from '../../../renderer/standalone/seen.ts'
import { nearestHeld } from '../../../renderer/standalone/strip.ts'
import { plainJob } from '../../support/job.ts'

const job = setCarton(cartonFor(plainJob.panel))(plainJob)
const lights = [{ name: 'As in the job', says: '', light: job.light }, rigs[2]!]
const proof = {
  of: versionOf({
    jobName: 'a.job.json',
    madeAt: '2026-03-04T09:30:00Z',
    program: '0',
    data: '0',
    sources: [],
    job,
  }),
  lights,
  paths: defaultPaths,
}
const hand = job.light.lamps[0].pose

describe('what a proof shows', () => {
  const sceneOf = sceneMaker(proof)
  const seen = firstSeen(proof)

  it('is the job’s own scene at first', () => {
    expect(sceneOf(seen)).toEqual(sceneWith(job, hand, job.view.pose))
  })

  it('has the lamps of another light, and the carton folded as far as its reader wants', () => {
    expect(sceneOf({ ...seen, light: 1 }).light).toEqual(lights[1]?.light)
    const flat = sceneOf({ ...seen, fold: 0 }).solid
    // Lamp and panel move at every frame; the carton is folded once.
    expect(sceneOf({ ...seen, fold: 0 }).solid).toBe(flat)
    expect(sceneOf(seen).solid).not.toEqual(flat)
  })

  it('lies open while its leaves are lifted', () => {
    expect(sceneOf({ ...seen, overlay: { ...asPrinted, lift: 0.5 } })).not.toHaveProperty('solid')
  })

  it('follows a path, and stays where the path was left', () => {
    const run = { path: 1, timeS: 5, playing: true }
    const at = sceneOf({ ...seen, run })
    expect(at).toEqual(sceneAt(job, samplePath(defaultPaths[1]!, 5)))
    const left = outOfRun({ ...seen, run }, proof)
    expect(left.run).toBeNull()
    expect(sceneOf(left).light.lamps[0].pose).toEqual(at.light.lamps[0].pose)
    expect(sceneOf(left).view.pose).toEqual(at.view.pose)
  })
})

it('the strip shows the picture that is held most alike', () => {
  const held = [-20, -10, 0, 10, 20].map(tiltSideDeg => ({
    pose: { tiltForwardDeg: 0, tiltSideDeg, turnDeg: 0 },
    lamp: hand,
  }))
  const at = (tiltSideDeg: number, tiltForwardDeg = 0) =>
    nearestHeld({ held }, { tiltForwardDeg, tiltSideDeg, turnDeg: 0 })
  expect([at(-70), at(-6), at(4), at(6, 30), at(16)]).toEqual([0, 1, 2, 3, 4])
})

// W3C, Device Orientation and Motion: turns about the device's own axes are right-handed; x to its right, y to its top.
describe('the tilt of a phone', () => {
  it.each([
    ['upright, its top goes away', -10, 0, 0, [10, 0]],
    ['upright, its right side goes away', 0, 10, 0, [0, 10]],
    ['its top at the left, its top goes away', -10, 0, 90, [0, -10]],
    ['its top at the left, its right side goes away', 0, 10, 90, [10, 0]],
    ['on its head, its top goes away', -10, 0, 180, [-10, 0]],
  ] as const)('%s', (_, beta, gamma, angle, [forward, side]) => {
    const turned = turnOf(beta, gamma, angle)
    expect(turned[0]).toBeCloseTo(forward, 9)
    expect(turned[1]).toBeCloseTo(side, 9)
  })
})
