import { describe, expect, it } from 'vitest'
import { cartonBlank } from '../../../core/carton/carton.ts'
import { around, directionOnSheet } from '../../../core/effects/sheet-direction.ts'
import { artCorners, cartonFor } from '../../../core/job/carton.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { foldedSolid } from '../../../core/reference/folded.ts'
import { Sweeper } from '../../../core/reference/sweep.ts'
import { type PaintPlan, paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'

const plan: PaintPlan = { size: 16, sideMm: 40, gratings: 1, whites: [], spots: [], varnish: false }
const groove = {
  pitch: 1000,
  grooveDepth: 80,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}
const lampAt = (azimuthDeg: number) =>
  oneLamp({ azimuthDeg: around(azimuthDeg), elevationDeg: 60, distanceMm: 500, diameterMm: 20 }, 0)

const across = (deg: number) =>
  paintMap(plan, () => ({ gratings: [{ ...groove, azimuth: (deg * Math.PI) / 180 }] }))
/** One set serves all places of the lamp. */
const sets = bakingsOf(sceneFor(lampAt(0)), across(0)).map(bakeTables)

/** Light of a grating in its direction across the grooves, on a panel that lies turned. */
function light(acrossDeg: number, turnDeg: number, lampDeg: number): number {
  const sweeper = new Sweeper(sceneFor(lampAt(lampDeg)), across(acrossDeg), sets, [{ xMm: 20, yMm: 20 }])
  return sweeper.at({ tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg })![1]
}

describe('the direction of an effect on the sheet', () => {
  it.each([
    [90, 0, 90],
    [90, 90, 180],
    [105, 270, 15],
    [-30, 180, 150],
    [350, 90, 80],
    [0, 0, 0],
  ])('%d° on a carton that lies turned by %d° is %d°', (deg, turn, onSheet) => {
    expect(directionOnSheet(deg, turn)).toBe(onSheet)
  })

  // The grating equation for a lamp in the plane across the grooves: there it shines at the eye, beside it it does not.
  it.each([0, 90, 180, 270])('is where a lamp over the sheet lights it when it lies turned by %d°', turn => {
    for (const deg of [20, 90, 135]) {
      const there = light(deg, turn, directionOnSheet(deg, turn))
      expect(there).toBeGreaterThan(1)
      expect(light(deg, turn, directionOnSheet(deg, turn) + 40)).toBeLessThan(0.02 * there)
      expect(there).toBeCloseTo(light(deg, 0, deg), 6)
    }
  })

  // Art is never turned on the blank: its directions are those of the open blank on every panel, and with the blank they
  // turn on the sheet. Folded by 90° about a vertical crease, up stays up and right goes away from the eye.
  it('is the same on every panel of the blank, open; folded, it goes with its panel', () => {
    const panel = { widthMm: 40, heightMm: 40 }
    const carton = cartonFor(panel)
    if (carton.form.from !== 'sizes') throw new Error('expected a carton of sizes')
    const blank = cartonBlank({ ...carton.form, caliperMm: 0.4 })
    const arts = [{ panel: null, xMm: 0, yMm: 0 }] as const
    const size = { widthMm: blank.widthMm, heightMm: blank.heightMm }
    const corners = artCorners(blank, arts, size)
    const turnOf = (amount: number, name: string) => {
      const solid = foldedSolid(blank, amount, {}, corners, size)
      return solid.leaves.find(leaf => leaf.name === name)!.turn
    }
    for (const name of ['front', 'right side']) {
      const [r0, r1] = turnOf(0, name)
      const right = [r0[0], r1[0]]
      expect(right[0]).toBeCloseTo(1, 9)
      expect(right[1]).toBeCloseTo(0, 9)
    }
    const [f0, f1, f2] = turnOf(1, 'right side')
    // Columns are where the panel's own right and up have gone.
    expect([f0[1], f1[1], f2[1]].map(v => Math.round(v))).toEqual([0, 1, 0])
    expect(Math.abs(f2[0])).toBeCloseTo(1, 6)
  })
})
