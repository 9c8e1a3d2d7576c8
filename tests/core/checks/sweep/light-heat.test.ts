import { expect, test } from 'vitest'
import { heatMap } from '../../../../core/checks/sweep/heat-map.ts'
import { lightHeat } from '../../../../core/checks/sweep/light-heat.ts'
import { matterPlace } from '../../../../core/checks/sweep/map-place.ts'
import { sweepSites } from '../../../../core/checks/sweep/sweep-sites.ts'
import { usualGrid, type ViewGrid } from '../../../../core/checks/sweep/view-grid.ts'
import { weightsOf } from '../../../../core/checks/sweep/view-weights.ts'
import { pyramid } from '../../../../core/material/mip.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { bakingsOf } from '../../../../core/reference/baking.ts'
import { paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const plan = {
  size: 64,
  sideMm: 64,
  gratings: 1,
  whites: [{ opacity: 0.95, hits: 1 }],
  spots: [],
  varnish: false,
}
/** The left half is white, the right half foil with a grating. */
const map = paintMap(plan, x =>
  x < 0
    ? { whites: [1], metal: 1 }
    : {
        metal: 1,
        gratings: [
          {
            pitch: 1000,
            azimuth: 0,
            grooveDepth: 80,
            groove: { shape: 'sinusoid' },
            share: 1,
            spreadAlong: 0,
            spreadAcross: 0,
          },
        ],
      },
)
const scene = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }))
const sets = bakingsOf(scene, map).map(bakeTables)

test('a place is the sweep of its pixel, summed up by the weights of the views', () => {
  const grid: ViewGrid = {
    lamps: usualGrid(scene).lamps.slice(0, 1),
    tilts: { fromDeg: -20, count: 3, stepDeg: 20 },
    turns: { fromDeg: 0, count: 4, stepDeg: 90 },
  }
  const weights = weightsOf(grid, { kind: 'solid-angle' })
  const heat = heatMap({ scene, map, sets, grid, over: 'view', columns: 4, weights })
  expect([heat.columns, heat.rows]).toEqual([4, 4])
  const places = [matterPlace(map, 0.625, 0.375)]
  const { light } = sweepSites({ scene, map, sets, grid, over: 'view', components: 1, places })
  const at = 1 * 4 + 2
  const mean = light.reduce((sum, Y, v) => sum + weights[v]! * Y, 0) / weights.reduce((sum, w) => sum + w, 0)
  expect(heat.mean[at]).toBeCloseTo(mean, 5)
  expect(heat.least[at]).toBe(Math.min(...light))
  expect(heat.most[at]).toBe(Math.max(...light))
})

test('foil goes from darker than white to far brighter, and is darker on average', () => {
  const { columns, rows, mean, least, most } = lightHeat({ scene, map, sets }, pyramid(map), undefined, 8)
  expect([columns, rows]).toEqual([8, 8])
  const middle = (rows / 2) * columns
  const [white, foil] = [middle + 1, middle + 6]
  // A diffuser shines as the cosine of the lamp's angle has it; its least is where a tilt of 60° turns it from the lamp.
  expect(mean[white]).toBeGreaterThan(0.5)
  expect(most[foil]).toBeGreaterThan(10 * most[white]!)
  expect(least[foil]).toBeLessThan(least[white]!)
  expect(mean[foil]).toBeLessThan(mean[white]!)
})

test('it stops when told to', () => {
  const stop = new AbortController()
  let heard = 0
  const progress = (): void => {
    if (++heard === 3) stop.abort()
  }
  expect(() => lightHeat({ scene, map, sets }, pyramid(map), { signal: stop.signal, progress })).toThrow(
    'cancelled',
  )
  expect(heard).toBe(3)
})
