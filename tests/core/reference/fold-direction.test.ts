import { describe, expect, test } from 'vitest'
import { lookingFrom, probe } from '../../../core/job/probe.ts'
import { stackAt } from '../../../core/material/sample.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import type { Grating } from '../../../core/optics/matter.ts'
import { bakingOf } from '../../../core/reference/baking.ts'
import { sceneOnLeaf } from '../../../core/reference/on-leaf.ts'
import { lampPosition, panelRotation } from '../../../core/reference/pose.ts'
import { inObject } from '../../../core/reference/solid.ts'
import { toTable, type Vec3 } from '../../../core/reference/vector.ts'
import { trayFolded } from '../../support/carton.ts'
import { paintMap } from '../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../support/scene.ts'

/*
 * The grating equation written on the table, without any leaf's frame: an order m shows λ = d (l + v) · g / m, l and v
 * the unit vectors to lamp and eye from where the place truly is, g the grating's direction as the fold has turned it;
 * and it is seen where (l + v) has no part across g in the leaf's plane.
 */
const pitch = 1000
const art = { size: 64, sideMm: 80, gratings: 1, whites: [], spots: [], varnish: false }
const bare = paintMap(art, () => ({ metal: 1, cmyk: [0, 0, 0, 0], gratings: [] }))
const grating = (azimuth: number): Grating => ({
  pitch,
  azimuth,
  grooveDepth: 80,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
})

const minus = (a: Vec3, b: Vec3): Vec3 => [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
const unit = (a: Vec3): Vec3 => {
  const size = Math.hypot(...a)
  return [a[0] / size, a[1] / size, a[2] / size]
}
const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

describe('the same grating on every panel', () => {
  const places = { front: [40, 38], right: [70, 38], left: [10, 38], lid: [40, 62] } as const
  const poses = [
    { tiltForwardDeg: -20, tiltSideDeg: 35, turnDeg: 0 },
    { tiltForwardDeg: 25, tiltSideDeg: -40, turnDeg: 15 },
    { tiltForwardDeg: -45, tiltSideDeg: 10, turnDeg: -8 },
  ]
  const lamp = { azimuthDeg: 30, elevationDeg: 55, distanceMm: 420, diameterMm: 4 }

  test.each(Object.entries(places))('on the %s lights where the grating equation says', (panel, [x, y]) => {
    let shown = 0
    for (const amount of [0.4, 0.8, 1])
      for (const pose of poses) {
        const scene = { ...sceneFor(oneLamp(lamp)), solid: trayFolded(amount) }
        const here = sceneOnLeaf({ ...scene, view: { ...scene.view, pose } }, bare, x, y)!
        const leaf = here.leaf!
        expect(leaf.name).toBe(panel)
        const rotation = panelRotation(pose)
        const place = toTable(rotation, inObject(leaf, x - 40, y - 40, 0))
        const toLamp = unit(minus(lampPosition(lamp), place))
        const toEye = unit(minus([0, 0, here.view.eyeDistanceMm], place))
        const axis = (of: Vec3) => toTable(rotation, toTable(leaf.turn, of))
        const along = (of: Vec3) => dot(toLamp, axis(of)) + dot(toEye, axis(of))
        if (dot(toLamp, axis([0, 0, 1])) <= 0 || dot(toEye, axis([0, 0, 1])) <= 0) continue
        const h = [along([1, 0, 0]), along([0, 1, 0])] as const
        const stack = { ...stackAt(bare, x, y), gratings: [grating(Math.atan2(h[1], h[0]))] }
        const board = bakingOf(here, 'D65', bare).board
        const { orders } = probe(stack, lookingFrom(here, bare, x, y), board, here.view, null)
        for (let m = 1; m <= 3; m++) {
          const expected = (pitch * Math.hypot(...h)) / m
          if (expected < 400 || expected > 700) continue
          shown++
          const order = orders.find(one => one.m === m)
          expect(order?.wavelengthNm, `${panel} ${amount} order ${m}`).toBeCloseTo(expected, 4)
          expect(order!.XYZ[1]).toBeGreaterThan(0.01)
          // Across its direction it is dark.
          const turned = { ...stack, gratings: [grating(Math.atan2(h[1], h[0]) + Math.PI / 2)] }
          const dark = probe(turned, lookingFrom(here, bare, x, y), board, here.view, null)
          expect(Math.max(0, ...dark.orders.map(one => one.XYZ[1]))).toBeLessThan(1e-6)
        }
      }
    expect(shown).toBeGreaterThan(2)
  })
})
