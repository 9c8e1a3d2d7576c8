import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { illuminantSpectrum, illuminantWhite, observer } from '../../core/color/spectrum.ts'
import { bakeTables } from '../../core/optics/bake.ts'
import { fresnel, refracted } from '../../core/optics/fresnel.ts'
import { metalReflectance } from '../../core/optics/metal.ts'
import { defaultBoard } from '../../core/optics/scene.ts'
import { shade } from '../../core/reference/shade.ts'
import { evenRadiance, evenRooms, inFurnace } from '../support/furnace.ts'
import { foil, platesOf, raysOf, siteOf, toward } from '../support/optics.ts'
import { anyCmyk, anyGrating, number } from './law-cases.ts'

/*
 * A room that is as bright from everywhere tells what a thing takes away: whatever it does with the light's direction,
 * nothing may look brighter than the room, and a mirror looks exactly as dark as its metal and its surface.
 */
const eyes = fc.tuple(number(0, 60), number(-180, 180)).map(([polar, azimuth]) => toward(polar, azimuth))
const few = { seed: 20266, numRuns: 12 }
const coat = defaultBoard.lacquerIndex
const white = illuminantWhite('D65')

describe('laws of an even room', () => {
  test('white furnace: a mirror shows F + (1 − F)² R of its metal, nothing else', () => {
    const light = illuminantSpectrum('D65')
    fc.assert(
      fc.property(eyes, eye => {
        const F = fresnel(eye[2], coat)
        const inside = refracted(eye[2], coat)
        const expected = light.reduce(
          (sum, power, i) =>
            sum + power * observer.y[i]! * (F + (1 - F) ** 2 * metalReflectance(380 + i, inside, coat)),
          0,
        )
        expect(inFurnace(foil(), eye)[1]).toBeCloseTo(expected, 9)
      }),
      few,
    )
  })

  test('white furnace: no groove, ink or white, measured or thin, looks brighter than the room', () => {
    const whites = fc.array(
      fc.record({ coverage: number(0, 1), opacity: number(0.02, 0.99), hits: fc.constantFrom(1, 2) }),
      { maxLength: 2 },
    )
    fc.assert(
      fc.property(
        fc.array(anyGrating, { maxLength: 2 }),
        whites,
        anyCmyk,
        eyes,
        (gratings, films, cmyk, eye) => {
          const seen = inFurnace({ ...foil(...gratings), whites: films, cmyk }, eye)
          seen.forEach((v, c) => {
            expect(v).toBeGreaterThan(0)
            expect(v / white[c]!).toBeLessThanOrEqual(1)
          })
        },
      ),
      few,
    )
  })

  test('a grating only deals the room out anew: it never returns more than the mirror it was pressed into', () => {
    fc.assert(
      fc.property(anyGrating, eyes, (grating, eye) => {
        const pressed = inFurnace(foil(grating), eye)[1]
        // The vector factor of shallow waves may lift a sum of orders by a little: the cap holds it below 1, not below R.
        expect(pressed).toBeLessThanOrEqual(1.01 * inFurnace(foil(), eye)[1])
      }),
      few,
    )
  })

  test('the fast shading keeps the same furnace', () => {
    fc.assert(
      fc.property(anyGrating, eyes, (grating, eye) => {
        const stack = foil(grating)
        const tables = bakeTables({ illuminant: 'D65', board: defaultBoard, ...platesOf(stack) })
        let sum = 0
        for (const room of evenRooms) {
          const site = { ...siteOf(stack, raysOf(toward(0), eye), tables), irradiance: 0 }
          sum += shade(site, tables, room, new Float64Array(3))[1]! / evenRadiance
        }
        // Orders beyond ±7 and the strata of the spectrum: below 2 % of what is seen.
        expect(Math.abs(sum / inFurnace(stack, eye)[1] - 1)).toBeLessThan(0.02)
      }),
      few,
    )
  })
})
