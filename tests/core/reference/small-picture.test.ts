import { expect, test } from 'vitest'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { wholeView } from '../../../core/reference/camera.ts'
import { displayPicture } from '../../../core/reference/display-picture.ts'
import { renderTile } from '../../../core/reference/render.ts'
import { smallPicture } from '../../../core/reference/small-picture.ts'
import { paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'

const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }
const scene = sceneFor(oneLamp(lamp, 0.1))
const map = paintMap(
  { size: 64, sideMm: 40, gratings: 1, whites: [], spots: [], varnish: false },
  (x, y) => ({
    metal: 1,
    gratings: [
      {
        pitch: 1000 + 300 * x,
        azimuth: y,
        share: 1,
        grooveDepth: 100,
        groove: sinusoid,
        spreadAlong: 0.01,
        spreadAcross: 0.01,
      },
    ],
  }),
)
const levels = pyramid(map)
const sets = bakingsOf(scene, map).map(bakeTables)
// No multiple of the rows that are drawn at a time.
const size = { width: 40, height: 37, grid: 2, zoom: wholeView }

test('is the exact picture in one piece, byte by byte, as a screen of sRGB shows it', () => {
  const { width, height, rgba } = smallPicture(
    { ...scene, view: { ...scene.view, gamut: 'display-p3' } },
    levels,
    sets,
    size,
  )
  const srgb = { ...scene, view: { ...scene.view, gamut: 'srgb' as const } }
  const whole = displayPicture(renderTile(srgb, levels, sets, size, { top: 0, bottom: size.height }), srgb, 8)
  expect([width, height, rgba.length]).toEqual([40, 37, 4 * 40 * 37])
  expect(Array.from(rgba).filter((_, i) => i % 4 !== 3)).toEqual(Array.from(whole))
  expect(rgba.every((value, i) => i % 4 !== 3 || value === 255)).toBe(true)
  expect(new Set(rgba).size).toBeGreaterThan(40)
})

test('is given up between its rows', () => {
  const stop = new AbortController()
  const heard: number[] = []
  const draw = () =>
    smallPicture(scene, levels, sets, size, {
      signal: stop.signal,
      progress: done => {
        heard.push(done)
        if (done > 0) stop.abort()
      },
    })
  expect(draw).toThrow('cancelled')
  expect(heard).toHaveLength(2)
})
