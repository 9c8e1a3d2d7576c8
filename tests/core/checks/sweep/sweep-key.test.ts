import { expect, test } from 'vitest'
import { heatMap } from '../../../../core/checks/sweep/heat-map.ts'
import { matterPlace } from '../../../../core/checks/sweep/map-place.ts'
import { SweepCache, sweepKey } from '../../../../core/checks/sweep/sweep-key.ts'
import { meanOf, type SweepInput, sweepSites } from '../../../../core/checks/sweep/sweep-sites.ts'
import { usualGrid } from '../../../../core/checks/sweep/view-grid.ts'
import { weightsOf } from '../../../../core/checks/sweep/view-weights.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { bakingsOf } from '../../../../core/reference/baking.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const plan: PaintPlan = {
  size: 32,
  sideMm: 64,
  gratings: 0,
  whites: [{ opacity: 0.7, hits: 1 }],
  spots: [],
  varnish: false,
}
const scene = sceneFor(oneLamp({ azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }, 0.2))
const paint = (x: number): PaintStack => (x < 0 ? { whites: [1] } : { cmyk: [0, 0, 0, 0.5] })
const map = paintMap(plan, paint)
const sets = bakingsOf(scene, map).map(bakeTables)
const grid = {
  lamps: usualGrid(scene).lamps.slice(0, 2),
  turns: { fromDeg: 0, count: 2, stepDeg: 90 },
  tilts: { fromDeg: -20, count: 3, stepDeg: 20 },
}
const left = [matterPlace(map, 0.2, 0.5), matterPlace(map, 0.3, 0.3)]
const input: SweepInput = { scene, map, sets, places: left, grid, over: 'view', components: 1 }

test('a key stays while what it depends on stays', () => {
  const key = sweepKey(input)
  // An edit elsewhere, and the pose of the job, change nothing.
  const elsewhere = paintMap(plan, x => (x < 0.4 ? paint(x) : { cmyk: [1, 0, 0, 0] }))
  expect(sweepKey({ ...input, map: elsewhere })).toBe(key)
  const pose = { tiltForwardDeg: 9, tiltSideDeg: 9, turnDeg: 9 }
  expect(sweepKey({ ...input, scene: { ...scene, view: { ...scene.view, pose } } })).toBe(key)
  const others: readonly SweepInput[] = [
    { ...input, over: 'cell' },
    { ...input, components: 3 },
    { ...input, grid: { ...grid, tilts: { ...grid.tilts, stepDeg: 19 } } },
    { ...input, places: [...left].reverse() },
    { ...input, map: paintMap(plan, () => ({ whites: [0.9] })) },
    { ...input, map: paintMap({ ...plan, whites: [{ opacity: 0.8, hits: 1 }] }, paint) },
    { ...input, scene: { ...scene, light: { ...scene.light, roomLevel: 0.3 } } },
    { ...input, scene: { ...scene, board: { ...scene.board, wavinessMrad: 1 } } },
    { ...input, scene: { ...scene, view: { ...scene.view, eyeDistanceMm: 300 } } },
  ]
  expect(new Set([key, ...others.map(sweepKey)]).size).toBe(1 + others.length)
})

test('a kept sweep is given again, and the oldest goes', () => {
  const cache = new SweepCache(100)
  const first = cache.get(input)
  expect(cache.get({ ...input })).toBe(first)
  // 2 sites × 12 views × 2 numbers of 4 bytes are 192: there is room for one.
  cache.get({ ...input, over: 'cell' })
  const again = cache.get(input)
  expect(again).not.toBe(first)
  expect(again).toEqual(first)
})

test('a heat map is the sweep of its places, summed up', () => {
  const weights = weightsOf(grid, { kind: 'solid-angle' })
  const heat = heatMap({ scene, map, sets, grid, over: 'view', columns: 4, weights })
  expect([heat.columns, heat.rows]).toEqual([4, 4])
  const places = [matterPlace(map, 0.625, 0.375)]
  const { light } = sweepSites({ ...input, places })
  const at = 1 * 4 + 2
  expect(heat.mean[at]).toBeCloseTo(
    light.reduce((sum, Y, v) => sum + weights[v]! * Y, 0),
    5,
  )
  expect(heat.least[at]).toBe(Math.min(...light))
  expect(heat.most[at]).toBe(Math.max(...light))
})

test('the mean of a set is by its counts', () => {
  const swept = sweepSites(input)
  const mean = meanOf(swept, [3, 1])
  for (const [v, Y] of mean.entries())
    expect(Y).toBeCloseTo((3 * swept.light[v]! + swept.light[12 + v]!) / 4, 6)
})
