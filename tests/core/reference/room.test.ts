import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { illuminantWhite } from '../../../core/color/spectrum.ts'
import type { XYZ } from '../../../core/color/xyz.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { blazed, rectangular, sinusoid as sinusoidal } from '../../../core/optics/groove.ts'
import type { Stack } from '../../../core/optics/matter.ts'
import { defaultBoard, type IlluminantName } from '../../../core/optics/scene.ts'
import { seen } from '../../../core/optics/stack.ts'
import { shade } from '../../../core/reference/shade.ts'
import { foil, platesOf, raysOf, sinusoid, siteOf, toward } from '../../support/optics.ts'

const surround = { up: [0, 0.8, 0.6], level: 1 } as const

/** Gratings, azimuths, grooves and eyes; the room alone, as bright as paper. */
function errors(illuminant: IlluminantName, cmyk: Stack['cmyk']): readonly number[] {
  const white = illuminantWhite(illuminant)
  const found: number[] = []
  for (const pitch of [714, 1000, 1400, 2000])
    for (const groove of [sinusoidal, rectangular(0.5), blazed]) {
      const like = { ...foil({ ...sinusoid, pitch, grooveDepth: 80, groove }), cmyk }
      const tables = bakeTables({ illuminant, board: defaultBoard, ...platesOf(like) })
      for (const azimuth of [0.2, 2.2])
        for (const eye of [toward(3), toward(35, 200)]) {
          const stack = foil({ ...sinusoid, pitch, azimuth, grooveDepth: 80, groove })
          const rays = raysOf(toward(0), eye)
          const slow = seen({ ...stack, cmyk }, rays, illuminant, defaultBoard, surround).room
          const site = { ...siteOf({ ...stack, cmyk }, rays, tables), irradiance: 0 }
          const [X, Y, Z] = shade(site, tables, surround, new Float64Array(3))
          const lab = (c: XYZ) => xyzToLab(c, white)
          found.push(deltaE2000(lab([X!, Y!, Z!]), lab(slow)))
        }
    }
  return found
}

describe('the room, order by order, against the sum over every nanometre', () => {
  // The fast form knows orders up to 3 and takes strata of the spectrum at their middles.
  test.each<[IlluminantName, Stack['cmyk']]>([
    ['D65', [0, 0, 0, 0]],
    ['LED-B3', [0, 0.9, 0, 0]],
    ['FL11', [0.8, 0, 0.8, 0]],
    ['A', [0.2, 0.3, 1, 0.1]],
  ])(
    '%s through %s',
    (illuminant, cmyk) => {
      const found = errors(illuminant, cmyk)
      const mean = found.reduce((sum, d) => sum + d, 0) / found.length
      expect(found.length).toBe(48)
      expect(mean).toBeLessThan(0.3)
      expect(Math.max(...found)).toBeLessThan(3)
    },
    120_000,
  )
})
