import { describe, expect, test } from 'vitest'
import { damped, dampTries, judgedTimes } from '../../../core/job/flash-path.ts'
import type { LampPath, PathKey } from '../../../core/job/job.ts'
import { pathLength, samplePath } from '../../../core/job/path.ts'
import { pathPresets } from '../../../core/job/paths.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { FlashMeter, type FlashStretch } from '../../../core/reference/flash.ts'
import { flashPicture } from '../../../core/reference/flash-picture.ts'
import { withHandLamp } from '../../../core/reference/scene.ts'
import { type PaintPlan, paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'

/** A card of one grating, square, so that it fills more than a quarter of the view. */
const plan: PaintPlan = { size: 32, sideMm: 100, gratings: 1, whites: [], spots: [], varnish: false }
const groove = {
  pitch: 1000,
  azimuth: Math.PI / 2,
  grooveDepth: 60,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}
const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 120 }
const scene = sceneFor(oneLamp(lamp, 0))
const map = paintMap(plan, () => ({ gratings: [groove] }))
const levels = pyramid(map)
const tables = bakingsOf(scene, map).map(bakeTables)

function judged(path: LampPath): readonly FlashStretch[] {
  const meter = new FlashMeter()
  for (const time of judgedTimes(path)) {
    const { lamp: hand, pose } = samplePath(path, time)
    const held = { ...scene, light: withHandLamp(scene.light, hand), view: { ...scene.view, pose } }
    meter.add(time, flashPicture(held, levels, tables))
  }
  return meter.stretches()
}

const key = (timeS: number, tiltForwardDeg: number): PathKey => ({
  timeS,
  lamp,
  pose: { tiltForwardDeg, tiltSideDeg: 0, turnDeg: 0 },
  others: [],
  eye: null,
  ease: 'flow',
})
/** To the lamp's mirror, at 15°, and away again, so many times a second. */
const rocked = (hz: number, seconds: number): LampPath => ({
  name: 'rocked',
  loop: false,
  keys: Array.from({ length: 2 * hz * seconds + 1 }, (_, i) => key(i / (2 * hz), i % 2 === 0 ? 8 : 15)),
})

describe('flashes of a path', () => {
  test('a card that is rocked through the lamp’s mirror six times a second flashes too often', () => {
    const [found] = judged(rocked(6, 2))
    expect(found?.kind).toBe('general')
    expect(found!.part).toBeGreaterThan(0.25)
  })

  test('once a second it does not', () => {
    expect(judged(rocked(1, 3))).toEqual([])
  })

  test('damped it passes, slower and with all its keys', () => {
    const quick = rocked(6, 2)
    let path = quick
    let tries = 0
    for (let found = judged(path); found.length > 0; found = judged(path)) {
      path = damped(path, found)
      tries++
      expect(tries).toBeLessThanOrEqual(dampTries)
    }
    expect(tries).toBeGreaterThan(0)
    expect(pathLength(path)).toBeGreaterThan(1.5 * pathLength(quick))
    expect(path.keys.map(one => one.pose)).toEqual(quick.keys.map(one => one.pose))
  })

  // The presets are slower than 10° a second; a card of bare grating is the worst that they can meet. The booth is left
  // out: its lamp is so broad that nothing of it can flash, and that broad lamps take long.
  const small = pathPresets.filter(({ path }) => path.keys.length > 1 && path.keys[0]!.lamp.diameterMm < 200)
  test.each(small.map(one => [one.path.name, one.path] as const))(
    '%s passes on a card of bare holography',
    (_, path) => {
      expect(judged(path)).toEqual([])
    },
  )
})
