import { describe, expect, test } from 'vitest'
import { cellOf, tiltAndTurn } from '../../../../core/checks/sweep/cell.ts'
import { narrowLamps } from '../../../../core/checks/sweep/narrow.ts'
import { emptyCellLight, SiteSweep } from '../../../../core/checks/sweep/site-sweep.ts'
import { sweepSites } from '../../../../core/checks/sweep/sweep-sites.ts'
import {
  type GridLamp,
  sceneUnder,
  usualGrid,
  usualTilts,
  usualTurns,
  type View,
  type ViewGrid,
  viewsOf,
} from '../../../../core/checks/sweep/view-grid.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import type { Grating } from '../../../../core/optics/matter.ts'
import type { Tables } from '../../../../core/optics/tables.ts'
import { bakingsOf } from '../../../../core/reference/baking.ts'
import { lightOf } from '../../../../core/reference/light.ts'
import { standIn } from '../../../../core/reference/pose.ts'
import type { LampPose, Scene } from '../../../../core/reference/scene.ts'
import { Sweeper } from '../../../../core/reference/sweep.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { discLamp, oneLamp, sceneFor } from '../../../support/scene.ts'

const grating = (azimuthDeg: number, pitch: number, share = 1): Grating => ({
  pitch,
  azimuth: (azimuthDeg * Math.PI) / 180,
  grooveDepth: 90,
  groove: sinusoid,
  share,
  spreadAlong: 0,
  spreadAcross: 0,
})
const sideMm = 80
const size = 64
const plan: PaintPlan = {
  size,
  sideMm,
  gratings: 2,
  whites: [{ opacity: 0.8, hits: 1 }],
  spots: [],
  varnish: true,
}
/** Quarters of the panel: plain foil, one grating, two gratings under ink, white with a varnish. */
const painted = (x: number, y: number): PaintStack =>
  y < 0
    ? x < 0
      ? {}
      : { gratings: [grating(90, 1000)] }
    : x < 0
      ? { gratings: [grating(20, 1300, 0.4), grating(140, 800, 0.5)], cmyk: [0.3, 0, 0.5, 0] }
      : { whites: [0.9], varnish: 0.5, cmyk: [0, 0.2, 0, 0.4] }
const map = paintMap(plan, painted)
const pixel = (column: number, row: number) => ({
  column,
  row,
  xMm: ((column + 0.5) / size) * sideMm,
  yMm: (1 - (row + 0.5) / size) * sideMm,
})
/** One in each quarter, near the middle and near a corner. */
const places = [pixel(30, 40), pixel(50, 60), pixel(4, 3), pixel(34, 20)]
const hand: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }

const tables = new Map<string, readonly Tables[]>()
/** Tables do not know where a lamp is. */
function tablesOf(scene: Scene): readonly Tables[] {
  const bakings = bakingsOf(scene, map)
  const key = JSON.stringify(bakings.map(({ illuminant }) => illuminant))
  const made = tables.get(key) ?? bakings.map(bakeTables)
  tables.set(key, made)
  return made
}

describe('a sweep of sites', () => {
  const light: Scene['light'] = {
    lamps: [discLamp(hand), { ...discLamp({ ...hand, azimuthDeg: 20, diameterMm: 260 }, 'A'), lux: 200 }],
    roomLevel: 0.2,
  }
  const scene = sceneFor(light)
  const sets = tablesOf(scene)
  const grid: ViewGrid = {
    ...usualGrid(scene),
    turns: { fromDeg: 0, count: 3, stepDeg: 110 },
    tilts: { fromDeg: -60, count: 9, stepDeg: 15 },
  }
  const input = { scene, map, sets, places, grid, over: 'view', components: 3 } as const
  const swept = sweepSites(input)

  test('is what the reference sees at the same place and view', () => {
    let compared = 0
    for (const [v, { pose, lamp }] of viewsOf(grid).entries()) {
      const lit = sceneUnder(scene, grid.lamps[lamp]!)
      for (const [s, place] of places.entries()) {
        const truth = new Sweeper(lit, map, sets, [place]).at(pose)!
        const sweep = new SiteSweep(map, sets, [place])
        const held = { ...lit, view: { ...lit.view, pose } }
        const exact = sweep.at(0, lightOf(held, standIn(held)), new Float64Array(3))
        for (let c = 0; c < 3; c++) {
          expect(Math.abs(exact[c]! - truth[c]!)).toBeLessThanOrEqual(1e-9 * truth[c]!)
          // The table holds the same in 32 bits.
          expect(swept.light[3 * (s * swept.views.length + v) + c]).toBe(Math.fround(exact[c]!))
          compared++
        }
      }
    }
    expect(compared).toBe(3 * 3 * 9 * 4 * 3)
  })

  test('can be stopped, and says how far it is', () => {
    const heard: number[] = []
    const stop = new AbortController()
    const progress = (done: number): void => {
      heard.push(done)
      if (heard.length === 2) stop.abort()
    }
    expect(() => sweepSites(input, { signal: stop.signal, progress })).toThrow('cancelled')
    expect(heard).toHaveLength(2)
    expect(heard[0]).toBeCloseTo(25 / 81, 9)
  })
})

describe('over a cell', () => {
  /** The sum over so many even pieces, without any thought where a flash may lie. */
  function summed(scene: Scene, s: number, view: View, [tilts, turns]: readonly [number, number]): number {
    const sweep = new SiteSweep(map, tablesOf(scene), [places[s]!])
    const swing = tiltAndTurn(scene, usualGrid(scene).lamps[0]!)
    const one = new Float64Array(3)
    let sum = 0
    for (let i = 0; i < tilts; i++)
      for (let j = 0; j < turns; j++) {
        const tilt = view.pose.tiltForwardDeg + ((i + 0.5) / tilts - 0.5) * view.tiltStepDeg
        const turn = view.pose.turnDeg + ((j + 0.5) / turns - 0.5) * view.turnStepDeg
        const held = swing.at(tilt, turn)
        sum += sweep.at(0, lightOf(held, standIn(held)), one)[1]!
      }
    return sum / tilts / turns
  }

  for (const [name, diameterMm, pieces] of [
    ['a torch', 10, [48, 72]],
    ['a lamp of 3 mm', 3, [64, 96]],
    ['a window', 300, [24, 48]],
  ] as const)
    test(`the mean is that of a fine sum under ${name}, also where no view of the grid meets the flash`, () => {
      const scene = sceneFor(oneLamp({ ...hand, azimuthDeg: 70, diameterMm }))
      const [lamp] = usualGrid(scene).lamps as [GridLamp]
      const views = viewsOf({ lamps: [lamp], turns: usualTurns, tilts: usualTilts })
      const sweep = new SiteSweep(map, tablesOf(scene), places)
      const swing = tiltAndTurn(scene, lamp)
      const lamps = narrowLamps(scene)
      const out = emptyCellLight()
      const one = new Float64Array(3)
      let hidden = 0
      for (const s of places.keys()) {
        const means = views.map(view => sweep.over(s, cellOf(swing, view), lamps, out).mean[1]!)
        // The brightest cells that their own middle does not show, and some that stay as they are.
        const middles = views.map(({ pose }) => {
          const held = swing.at(pose.tiltForwardDeg, pose.turnDeg)
          return sweep.at(s, lightOf(held, standIn(held)), one)[1]!
        })
        const hides = views.map((_, v) => means[v]! - 10 * middles[v]!)
        const order = views.map((_, v) => v).sort((a, b) => hides[b]! - hides[a]!)
        for (const v of [...order.slice(0, 3), order[20]!, order[100]!]) {
          const truth = summed(scene, s, views[v]!, pieces)
          // A thousandth of paper white is nothing beside any room.
          expect(Math.abs(means[v]! - truth)).toBeLessThanOrEqual(0.02 * truth + 0.001)
          if (truth > 0.1 && middles[v]! < 0.1 * truth) hidden++
        }
      }
      // A window is wider than a cell: nothing of it hides.
      if (diameterMm < 100) expect(hidden).toBeGreaterThanOrEqual(5)
    })
})
