import { describe, expect, it } from 'vitest'
import { addLamp, mayRemove, removeLamp, setLamp } from '../../../core/job/lamps.ts'
import { parseJob } from '../../../core/job/parse.ts'
import { applyRig, rigOf, rigs } from '../../../core/job/rigs.ts'
import { mostLamps } from '../../../core/reference/scene.ts'
import { plainJob } from '../../support/job.ts'

const add = addLamp(plainJob.light.lamps[0])

describe('lamps of a job', () => {
  it('a lamp is added with a name of its own, a third of a turn further', () => {
    const two = add(plainJob)
    expect(two.light.lamps.map(lamp => lamp.name)).toEqual([plainJob.light.lamps[0].name, 'Lamp 2'])
    const [a, b] = two.light.lamps.map(lamp => lamp.pose.azimuthDeg)
    expect(Math.cos(((b! - a!) * Math.PI) / 180)).toBeCloseTo(-0.5, 9)
    expect(add(removeLamp(0)(two)).light.lamps.map(lamp => lamp.name)).toEqual(['Lamp 2', 'Lamp 3'])
  })

  it('no lamp that is added stands over another', () => {
    let job = plainJob
    while (job.light.lamps.length < mostLamps) job = addLamp(job.light.lamps.at(-1)!)(job)
    const places = job.light.lamps.map(({ pose }) => Math.round((pose.azimuthDeg + 720) % 360))
    expect(new Set(places).size).toBe(mostLamps)
  })

  it('there are never more than fit, nor none', () => {
    let job = plainJob
    for (let i = 0; i < 10; i++) job = add(job)
    expect(job.light.lamps).toHaveLength(mostLamps)
    for (let i = 0; i < 10; i++) job = removeLamp(0)(job)
    expect(job.light.lamps).toHaveLength(1)
  })

  it('the only lamp that burns stays', () => {
    const dark = setLamp(1, { lux: 0 })(add(plainJob))
    expect(mayRemove(dark.light.lamps, 0)).toBe(false)
    expect(removeLamp(0)(dark)).toBe(dark)
    expect(removeLamp(1)(dark).light.lamps).toHaveLength(1)
  })

  it('a lamp that there is not leaves the job alone', () => {
    expect(setLamp(3, { lux: 10 })(plainJob)).toBe(plainJob)
    expect(setLamp(0, { lux: 10 })(plainJob).light.lamps[0].lux).toBe(10)
  })
})

describe('rigs', () => {
  it.each(rigs.map(rig => [rig.name, rig] as const))(
    '%s is a light that a job may have, and known again',
    (_, rig) => {
      const job = applyRig(rig)(plainJob)
      expect(rigOf(parseJob(JSON.stringify(job), 'rig.job.json').light)).toBe(rigs.indexOf(rig))
      expect(rigOf(setLamp(0, { lux: 12 })(job).light)).toBeNull()
      expect(rig.source).toMatch(/ISO 3664|CIE 015/)
    },
  )

  it('has the levels of ISO 3664: P1 2000 lx, P2 500 lx, both D50', () => {
    for (const [condition, lux] of [
      ['P1', 2000],
      ['P2', 500],
    ] as const) {
      const rig = rigs.find(one => one.source.includes(`condition ${condition}`))
      expect(rig?.light.lamps.find(lamp => lamp.name === 'Booth')).toMatchObject({ illuminant: 'D50', lux })
    }
  })
})
