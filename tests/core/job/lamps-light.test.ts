import { describe, expect, test } from 'vitest'
import { deltaE2000 } from '../../../core/color/deltae.ts'
import { xyzToLab } from '../../../core/color/lab.ts'
import { probeSum } from '../../../core/job/probe-sum.ts'
import { rigs } from '../../../core/job/rigs.ts'
import { checkStanding } from '../../../core/job/standing.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { stackAt } from '../../../core/material/sample.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { bakingOf, bakingsOf, sceneWhite } from '../../../core/reference/baking.ts'
import { displayPicture } from '../../../core/reference/display-picture.ts'
import { renderTile } from '../../../core/reference/render.ts'
import type { Lamp, Scene } from '../../../core/reference/scene.ts'
import { totalLux } from '../../../core/reference/scene.ts'
import { sinusoid } from '../../support/optics.ts'
import { paintMap } from '../../support/paint-map.ts'
import { discLamp, sceneFor } from '../../support/scene.ts'

const place = (azimuthDeg: number, elevationDeg: number, distanceMm: number, diameterMm = 10) => ({
  azimuthDeg,
  elevationDeg,
  distanceMm,
  diameterMm,
})
const small: Lamp = { ...discLamp(place(0, 60, 400), 'A'), name: 'Bulb', lux: 300 }
const cold: Lamp = { ...discLamp(place(10, 58, 450, 6), 'LED-B5'), name: 'Torch', lux: 150 }
const window: Lamp = {
  ...discLamp(place(0, 52, 1500), 'D65'),
  name: 'Window',
  form: { kind: 'rectangle', widthMm: 900, heightMm: 900, rollDeg: 0 },
  lux: 800,
}

const plan = {
  size: 64,
  sideMm: 80,
  gratings: 1,
  whites: [{ opacity: 1, hits: 1 }],
  spots: [],
  varnish: false,
}
const map = paintMap(plan, x => ({ gratings: [sinusoid], whites: [x > 0 ? 1 : 0] }))
const under = (lamps: Scene['light']['lamps'], roomLevel = 0): Scene => sceneFor({ lamps, roomLevel })

/** Light of a fine picture, and the same at one place of the panel. */
function picture(scene: Scene) {
  const tables = bakingsOf(scene, map).map(bakeTables)
  return renderTile(scene, pyramid(map), tables, { width: 56, height: 56, grid: 1 }, { top: 0, bottom: 56 })
}

describe('many lamps', () => {
  test('add up, each by its part of the light', () => {
    const all: Scene['light']['lamps'] = [small, cold, window]
    const together = picture(under(all))
    const total = totalLux({ lamps: all, roomLevel: 0 })
    const alone = all.map(lamp => ({ light: picture(under([lamp])), part: lamp.lux / total }))
    let largest = 0
    for (let i = 0; i < together.length; i++) {
      if (i % 4 === 3) continue
      const sum = alone.reduce((whole, { light, part }) => whole + part * light[i]!, 0)
      largest = Math.max(largest, Math.abs(together[i]! - sum) / (1 + sum))
    }
    // Single precision of the picture, once for each lamp.
    expect(largest).toBeLessThan(1e-5)
  })

  test('a lamp of 0 lx is not there', () => {
    const dark = { ...cold, lux: 0 }
    expect(picture(under([small, dark], 0.2))).toEqual(picture(under([small], 0.2)))
    expect(picture(under([dark, small], 0.2))).toEqual(picture(under([small], 0.2)))
  })

  test('as much light from all of them makes no brighter white', () => {
    // Opaque white on the right half: twice the lux is the same picture, whose unit is its own white.
    const twice = (lamp: Lamp): Lamp => ({ ...lamp, lux: 2 * lamp.lux })
    expect(picture(under([twice(small), twice(window)]))).toEqual(picture(under([small, window])))
  })

  test('the number at a place is the picture’s pixel', () => {
    const scene = under([small, cold, window], 0.2)
    const light = picture(scene)
    const white = sceneWhite(scene)
    const { board } = bakingOf(scene, 'D65', map)
    for (const [column, row] of [
      [20, 20],
      [27, 30],
      [40, 25],
    ] as const) {
      // The picture shows 80 · 1.12 mm over 56 pixels.
      const mm = (80 * 1.12) / 56
      const x = (column + 0.5) * mm - 4.8
      const y = 84.8 - (row + 0.5) * mm
      const found = probeSum(stackAt(map, x, y), scene, map, x, y, board)
      const at = 4 * (56 * row + column)
      const pixel = [light[at]!, light[at + 1]!, light[at + 2]!] as const
      const bright = Math.max(1, found.XYZ[1])
      const lab = (c: readonly [number, number, number]) =>
        xyzToLab([c[0] / bright, c[1] / bright, c[2] / bright], white)
      expect(deltaE2000(lab(pixel), lab(found.XYZ)), `${pixel} for ${found.XYZ}`).toBeLessThan(1)
      const parts = found.lamps.reduce((sum, lamp) => sum + lamp.XYZ[1], found.roomXYZ[1])
      expect(parts).toBeCloseTo(found.XYZ[1], 12)
    }
  })
})

test('exposure is anchored in lux: white at half the anchor is a stop darker', () => {
  const scene = under([{ ...small, illuminant: 'D65', lux: 500 }])
  const white = sceneWhite(scene)
  const shown = (change: Partial<Scene['view']>) =>
    displayPicture(Float32Array.of(...white, 1), { ...scene, view: { ...scene.view, ...change } }, 16)[1]!
  // 500 lx against an anchor of 1000 lx is what one stop less shows against its own.
  expect(shown({ anchorLux: 1000 })).toBe(shown({ exposureStops: -1 }))
  expect(shown({ anchorLux: 500 })).toBe(shown({}))
})

describe('a lamp that reaches into the panel', () => {
  const panel = { widthMm: 200, heightMm: 100 }
  const flat = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
  const strip = (elevationDeg: number, distanceMm: number, rollDeg = 0): Pick<Lamp, 'pose' | 'form'> => ({
    pose: place(90, elevationDeg, distanceMm),
    form: { kind: 'rectangle', widthMm: 1500, heightMm: 40, rollDeg },
  })
  test('a long strip close above is fine, one that stands on end in it is not', () => {
    expect(() => checkStanding(strip(60, 300), flat, panel, 'a.job', 'lamp 1')).not.toThrow()
    expect(() => checkStanding(strip(20, 40, 90), flat, panel, 'a.job', 'lamp 1')).toThrow(
      'the lamp (1500 × 40 mm, 40 mm from the middle) reaches into the panel',
    )
  })
  test('every rig stands clear of a large panel', () => {
    for (const { light } of rigs)
      for (const lamp of light.lamps)
        expect(() =>
          checkStanding(lamp, flat, { widthMm: 400, heightMm: 300 }, 'a.job', lamp.name),
        ).not.toThrow()
  })
})
