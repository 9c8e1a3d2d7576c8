import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import type { XYZ } from '../../../core/color/xyz.ts'
import { areaFrom, lampRays } from '../../../core/job/probe.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import type { Direction } from '../../../core/optics/rays.ts'
import { defaultBoard, type IlluminantName } from '../../../core/optics/scene.ts'
import { seen, underLamp } from '../../../core/optics/stack.ts'
import { lightOf } from '../../../core/reference/light.ts'
import { stand } from '../../../core/reference/pose.ts'
import type { Lamp, LampForm, LampPose } from '../../../core/reference/scene.ts'
import { shadeAll } from '../../../core/reference/shade.ts'
import { foil, platesOf, raysOf, sinusoid, siteOf, toward } from '../../support/optics.ts'
import { discLamp, sceneFor } from '../../support/scene.ts'

const flat = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

function lamp(
  pose: Omit<LampPose, 'diameterMm'>,
  form: LampForm,
  illuminant: IlluminantName,
  diameterMm = 1,
): Lamp {
  return { ...discLamp({ ...pose, diameterMm }, illuminant), form }
}

/** Fast and slow light of one lamp in the panel's middle, in units of perfect white there. */
function both(stack: Stack, one: Lamp, eye: Direction) {
  const scene = sceneFor({ lamps: [one], roomLevel: 0 })
  const standing = stand(one.pose, flat, 400)
  const tables = bakedFor(stack, one.illuminant)
  const light = lightOf(scene, standing)
  expect(light.lamps.map(({ wide }) => wide)).toEqual([true])
  const site = siteOf(stack, raysOf(toward(0), eye), tables)
  const [X, Y, Z] = shadeAll(site, light, [tables], new Float64Array(3))
  const area = areaFrom(one, standing, [0, 0, 0])
  const rays = { ...lampRays(one, area), eye, eyeSpread: 0.0025 }
  return { fast: [X!, Y!, Z!] as XYZ, slow: underLamp(seen(stack, rays, one.illuminant, defaultBoard)) }
}

const kept = new Map<string, ReturnType<typeof bakeTables>>()
function bakedFor(stack: Stack, illuminant: IlluminantName) {
  const key = JSON.stringify([illuminant, platesOf(stack)])
  const found = kept.get(key) ?? bakeTables({ illuminant, board: defaultBoard, ...platesOf(stack) })
  kept.set(key, found)
  return found
}

const place = (elevationDeg: number, distanceMm: number) => ({ azimuthDeg: 12, elevationDeg, distanceMm })
const forms: readonly (readonly [string, (illuminant: IlluminantName) => Lamp])[] = [
  [
    'a window',
    illuminant =>
      lamp(place(50, 1500), { kind: 'rectangle', widthMm: 1000, heightMm: 1200, rollDeg: 0 }, illuminant),
  ],
  [
    'a strip',
    illuminant =>
      lamp(place(60, 1000), { kind: 'rectangle', widthMm: 1200, heightMm: 25, rollDeg: 35 }, illuminant),
  ],
  ['a disc', illuminant => lamp(place(60, 400), { kind: 'disc' }, illuminant, 64)],
]

describe('the fast shading of wide lamps against the sum over every nanometre', () => {
  // Gratings, azimuths, eyes and inks, exposed to paper white or the brighter of the two.
  test.each<[IlluminantName, number, number]>([
    ['D65', 0.3, 3],
    ['LED-B3', 0.3, 3],
    ['FL11', 0.5, 4.7],
  ])(
    '%s',
    (illuminant, meanAllowed, worstAllowed) => {
      const found: number[] = []
      for (const [, make] of forms)
        for (const cmyk of [
          [0, 0, 0, 0],
          [0, 0.9, 0.2, 0],
        ] as const)
          for (const pitch of [800, 1250, 2000])
            for (const azimuth of [0.1, 1.1])
              for (const eye of [toward(4, 200), toward(25, 185)]) {
                const stack: Stack = {
                  ...foil({ ...sinusoid, pitch, azimuth, grooveDepth: 80, share: 0.8 }),
                  cmyk,
                  whites: [{ coverage: 0.3, opacity: 0.5, hits: 1 }],
                  varnish: 0.5,
                }
                const { fast, slow } = both(stack, make(illuminant), eye)
                const bright = Math.max(1, slow[1])
                const lab = (c: XYZ) =>
                  xyzToLab([c[0] / bright, c[1] / bright, c[2] / bright], illuminantWhite(illuminant))
                found.push(deltaE2000(lab(fast), lab(slow)))
              }
      const mean = found.reduce((sum, d) => sum + d, 0) / found.length
      expect(found.length).toBe(72)
      expect(mean).toBeLessThan(meanAllowed)
      expect(Math.max(...found)).toBeLessThan(worstAllowed)
    },
    120_000,
  )
})
