import { expect, test } from 'vitest'
import { whiteLevels } from '../../../../core/checks/legibility/white-level.ts'
import { roomRadiance } from '../../../../core/optics/room.ts'
import { roomUp } from '../../../../core/optics/scene.ts'
import { discLamp, oneLamp, sceneFor } from '../../../support/scene.ts'
import { coarseViews, held, label, lamp } from './fixture.ts'

const rad = Math.PI / 180
const { sets } = label([], () => ({}))
const at = (light: ReturnType<typeof oneLamp>, tilt: number, x = 0, y = 0) =>
  whiteLevels(sceneFor(light), sets[0]!, [{ pose: held(tilt, 0), light, weight: 1 }], x, y)[0]!

// Lambert's law: irradiance goes with the cosine, over that of the untilted middle.
test.each([-70, -30, 0, 15, 40, 60])('a white under a small lamp, tilted by %f°', tilt => {
  // The lamp stands 30° off straight above, toward the top, which a positive tilt moves away.
  const cos = Math.max(0, Math.cos((30 - tilt) * rad))
  expect(at(oneLamp({ ...lamp, diameterMm: 5 }), tilt)).toBeCloseTo(cos / Math.cos(30 * rad), 6)
})

test('a lamp of any size gives the untilted middle what is asked of it, and a place nearer to it more', () => {
  for (const diameterMm of [5, 40, 300]) {
    const light = oneLamp({ ...lamp, diameterMm })
    expect(at(light, 0)).toBeCloseTo(1, 6)
    expect(at(light, 0, 0, 10)).toBeGreaterThan(at(light, 0, 0, -10))
  }
})

/** The room over the hemisphere by its cosine, summed direction by direction. */
function meanRoom(): number {
  const n = 400
  let sum = 0
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      // Evenly over the disc under the hemisphere, which is the cosine's weight.
      const radius = Math.sqrt((i + 0.5) / n)
      const y = radius * Math.sin((2 * Math.PI * (j + 0.5)) / n)
      sum += roomRadiance(roomUp, [
        radius * Math.cos((2 * Math.PI * (j + 0.5)) / n),
        y,
        Math.sqrt(1 - radius ** 2),
      ])
    }
  return sum / n ** 2
}

test('two lamps share the light, and the room adds its own', () => {
  const two = { lamps: [discLamp(lamp), discLamp({ ...lamp, azimuthDeg: 270 })], roomLevel: 0 } as const
  expect(at({ ...two, lamps: [...two.lamps] }, 0)).toBeCloseTo(1, 6)
  expect(at(oneLamp(lamp, 0.3), 0) - at(oneLamp(lamp), 0)).toBeCloseTo(0.3 * meanRoom(), 4)
})

test('nothing of the back', () => {
  const light = oneLamp(lamp, 0.3)
  expect(at(light, 120)).toBe(0)
  expect(coarseViews(light).every(({ pose }) => at(light, pose.tiltForwardDeg) > 0)).toBe(true)
})
