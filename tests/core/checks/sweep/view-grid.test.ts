import { describe, expect, test } from 'vitest'
import { usualGrid, type ViewGrid, viewsOf } from '../../../../core/checks/sweep/view-grid.ts'
import { readingHand, weightsOf } from '../../../../core/checks/sweep/view-weights.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 40 }
const grid = usualGrid(sceneFor(oneLamp(lamp)))

describe('the usual grid', () => {
  test('is three sizes, 24 turns and 25 tilts', () => {
    const views = viewsOf(grid)
    expect(views).toHaveLength(3 * 24 * 25)
    expect(grid.lamps.map(({ pose }) => pose.diameterMm)).toEqual([40, 10, 300])
    expect(new Set(views.map(({ pose }) => pose.tiltForwardDeg)).size).toBe(25)
    expect(Math.min(...views.map(({ pose }) => pose.tiltForwardDeg))).toBe(-60)
    expect(Math.max(...views.map(({ pose }) => pose.tiltForwardDeg))).toBe(60)
    expect(Math.max(...views.map(({ pose }) => pose.turnDeg))).toBe(345)
  })

  test.each<[string, Partial<ViewGrid>]>([
    ['no lamp', { lamps: [] }],
    ['a step of nothing', { tilts: { fromDeg: 0, count: 3, stepDeg: 0 } }],
    ['a tilt to the edge', { tilts: { fromDeg: -60, count: 31, stepDeg: 5 } }],
    ['half a step', { turns: { fromDeg: 0, count: 2.5, stepDeg: 5 } }],
    ['too many', { tilts: { fromDeg: -60, count: 10_000, stepDeg: 0.01 } }],
    ['no number', { tilts: { fromDeg: Number.NaN, count: 3, stepDeg: 1 } }],
  ])('%s is refused', (_, change) => {
    expect(() => viewsOf({ ...grid, ...change })).toThrow(/expected/)
  })
})

describe('weights', () => {
  test('by solid angle are the zones of a sphere', () => {
    const weights = weightsOf(grid, { kind: 'solid-angle' })
    const views = viewsOf(grid)
    expect(weights.reduce((a, b) => a + b)).toBeCloseTo(1, 12)
    // Area of a spherical zone, 2π (cos a − cos b): of both sides of tilt, to 62.5°.
    const zone = (a: number, b: number) => Math.cos((a * Math.PI) / 180) - Math.cos((b * Math.PI) / 180)
    const within = views.reduce(
      (sum, { pose }, v) => sum + (Math.abs(pose.tiltForwardDeg) <= 30 ? weights[v]! : 0),
      0,
    )
    expect(within).toBeCloseTo(zone(0, 32.5) / zone(0, 62.5), 12)
  })

  test('by a hand are parts of normal distributions', () => {
    const hand = { ...readingHand, tiltDeg: 0, tiltSpreadDeg: 10, turnDeg: 350, turnSpreadDeg: 30 }
    const weights = weightsOf({ ...grid, lamps: grid.lamps.slice(0, 1) }, hand)
    const part = (keep: (tilt: number, turn: number) => boolean) =>
      viewsOf({ ...grid, lamps: grid.lamps.slice(0, 1) }).reduce(
        (sum, { pose }, v) => sum + (keep(pose.tiltForwardDeg, pose.turnDeg) ? weights[v]! : 0),
        0,
      )
    expect(weights.reduce((a, b) => a + b)).toBeCloseTo(1, 12)
    // Φ(1.25) = 0.89435, Φ(0.75) = 0.77337: tilts of −5…10° are cells of −7.5…12.5°. Abramowitz & Stegun, table 26.1.
    expect(part(tilt => tilt >= -5 && tilt <= 10)).toBeCloseTo(0.89435 - (1 - 0.77337), 4)
    // The cell of 345° reaches from 12.5° before 350° to 2.5° after it: Φ(0.08333) − Φ(−0.41667).
    expect(part((_, turn) => turn === 345)).toBeCloseTo(0.53321 - 0.33846, 4)
  })

  test('of a hand that never holds it so, all views count alike', () => {
    const weights = weightsOf(grid, { ...readingHand, tiltDeg: 5000, tiltSpreadDeg: 1 })
    expect(weights[7]).toBeCloseTo(1 / weights.length, 12)
  })
})
