import { describe, expect, test } from 'vitest'
import type { XYZ } from '../../../core/color/xyz.ts'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import type { Grating } from '../../../core/optics/matter.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { frameCamera } from '../../../core/reference/camera.ts'
import { standIn, toTable } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import type { LampPose, PanelPose, Scene } from '../../../core/reference/scene.ts'
import { areaPlaces, type Place, Sweeper } from '../../../core/reference/sweep.ts'
import { extremesOf, searchRow, searchRows } from '../../../core/reference/sweep-extremes.ts'
import { polarPose, turnedTo } from '../../../core/reference/sweep-poses.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../support/paint-map.ts'
import { discLamp, oneLamp, sceneFor } from '../../support/scene.ts'

const groove: Grating = {
  pitch: 1000,
  azimuth: Math.PI / 2,
  grooveDepth: 80,
  groove: sinusoid,
  share: 1,
  spreadAlong: 0,
  spreadAcross: 0,
}
const sideMm = 80
const plan: PaintPlan = {
  size: 64,
  sideMm,
  gratings: 1,
  whites: [{ opacity: 0.7, hits: 1 }],
  spots: [],
  varnish: false,
}
const straight: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
/** Straight above the far edge: in the plane across the grooves of `groove`. */
const lamp: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
const plain: Scene = sceneFor(oneLamp(lamp))

function made(scene: Scene, paint: (x: number, y: number) => PaintStack, painted = plan) {
  const map = paintMap(painted, paint)
  const sets = bakingsOf(scene, map).map(bakeTables)
  return {
    map,
    sets,
    sweeper: (...places: Place[]) => new Sweeper(scene, map, sets, places),
    area: (radiusMm: number) =>
      new Sweeper(scene, map, sets, areaPlaces({ xMm: sideMm / 2, yMm: sideMm / 2 }, radiusMm)),
  }
}

const bare = (): PaintStack => ({ gratings: [groove] })
/** In the middle of a pixel of the map, where rounding decides nothing. */
const middle: Place = { xMm: sideMm / 2 + 0.625, yMm: sideMm / 2 + 0.625 }
const deg = (rad: number) => (rad * 180) / Math.PI
const rad = (angle: number) => (angle * Math.PI) / 180

describe('a sweep', () => {
  test('is the pixel of the reference picture that sees the place', () => {
    const printed = (x: number, y: number): PaintStack =>
      x < 0
        ? { gratings: [groove], cmyk: [0.3, 0, 0.5, 0] }
        : { gratings: [groove], whites: [y < 0 ? 1 : 0.4] }
    const light: Scene['light'] = {
      lamps: [discLamp(lamp), { ...discLamp({ ...lamp, azimuthDeg: 20, diameterMm: 260 }, 'A'), lux: 200 }],
      roomLevel: 0.2,
    }
    const scene = sceneFor(light)
    const { map, sets } = made(scene, printed)
    const levels = pyramid(map)
    const eyes = [undefined, { sideDeg: 25, riseDeg: -10 }]
    let compared = 0
    for (const eyeAt of eyes)
      for (const [xMm, yMm] of [
        [20.625, 50.625],
        [60.625, 20.625],
        [60.625, 60.625],
      ] as const)
        for (const pose of [
          straight,
          { ...straight, tiltForwardDeg: 15.5 },
          { tiltForwardDeg: -24, tiltSideDeg: 31, turnDeg: 77 },
        ]) {
          const held: Scene = {
            ...scene,
            view: { ...scene.view, pose, ...(eyeAt === undefined ? {} : { eyeAt }) },
          }
          const swept = new Sweeper(held, map, sets, [{ xMm, yMm }]).at(pose)
          // A picture of one pixel, turned up so far that it sees this place alone.
          const [px, py, pz] = toTable(standIn(held).view, [xMm - sideMm / 2, yMm - sideMm / 2, 0])
          const { top } = frameCamera(map, 400, 1)
          const zoom = { scale: 800, x: px / (400 - pz) / top, y: py / (400 - pz) / top }
          const [X, Y, Z, met] = renderTile(
            held,
            levels,
            sets,
            { width: 1, height: 1, grid: 1, zoom },
            { top: 0, bottom: 1 },
          )
          expect(met).toBe(1)
          for (const [c, value] of [X, Y, Z].entries()) {
            // The picture is of 32-bit numbers, and its ray meets the place to 1e-9 of its size.
            expect(Math.abs(swept![c]! - value!)).toBeLessThanOrEqual(1e-5 * (0.01 + value!))
            compared++
          }
        }
    expect(compared).toBe(54)
  })

  test('of a mirror is brightest where the normal halves the angle to the lamp', () => {
    const mirror = made(plain, () => ({}))
    const found = search(plain, mirror.sweeper(middle))
    // From the place the lamp is seen 0.6 mm to the side: far less than its own radius, which is 1.15°.
    expect(found.brightest.pose.tiltForwardDeg).toBeCloseTo(15, 0)
    expect(Math.abs(found.brightest.pose.tiltForwardDeg - 15)).toBeLessThan(deg(10 / 500))
    expect(Math.abs(found.brightest.pose.tiltSideDeg)).toBeLessThan(deg(10 / 500))
    expect(found.brightest.XYZ[1]).toBeGreaterThan(100)
    expect(found.darkest.XYZ[1]).toBeLessThan(0.01)
  })

  test('of a plain grating is brightest where the grating equation sends green to the eye', () => {
    // Depth 0.293 λ / n sends all it can into the first orders, and nearly nothing to the mirror, for 550 nm.
    const deep = made(plain, () => ({ gratings: [{ ...groove, grooveDepth: 107 }] }))
    const sweeper = deep.sweeper(middle)
    let best = { tilt: 0, Y: -1 }
    // Away from the mirror at 15°: the first order towards the eye with the panel tilted back.
    for (let tilt = -30; tilt < 8; tilt += 0.05) {
      const Y = sweeper.at(turnedTo(straight, 'forward', tilt))![1]
      if (Y > best.Y) best = { tilt, Y }
    }
    // sin(30° − τ) − sin τ = λ / d: along the grating vector, lamp 30° from straight-on, first order. The eye weighs
    // with ȳ, highest at 555 nm (CIE 018); daylight and the order's own efficiency move that by less than 10 nm.
    const waves = [545, 565].map(λ => tiltFor(λ / 1000))
    const lampRadius = deg(10 / 500) / 2
    expect(best.tilt).toBeGreaterThan(Math.min(...waves) - lampRadius)
    expect(best.tilt).toBeLessThan(Math.max(...waves) + lampRadius)
    expect(best.Y).toBeGreaterThan(50)
  })

  test('out of sight there is nothing', () => {
    const { sweeper } = made(plain, bare)
    expect(sweeper(middle).at({ ...straight, tiltForwardDeg: 91 })).toBeNull()
    expect(sweeper({ xMm: -3, yMm: 5 }).at(straight)).toBeNull()
  })

  test('on white, inks are as if neither metal nor holography were there', () => {
    const inked = made(plain, () => ({ gratings: [groove], cmyk: [0, 0.6, 0.2, 0] }))
    const board = made(plain, () => ({ metal: 0, cmyk: [0, 0.6, 0.2, 0] }))
    for (const pose of [straight, { ...straight, tiltForwardDeg: -20, turnDeg: 50 }]) {
      const onWhite = inked.sweeper(middle).onWhite(pose)!
      expect(onWhite).toEqual(board.sweeper(middle).at(pose))
      expect(onWhite).not.toEqual(inked.sweeper(middle).at(pose))
    }
  })
})

describe('a polar map', () => {
  test('leans where it says', () => {
    for (const tilt of [0, 20, 55])
      for (const angle of [0, 45, 90, 200, 300]) {
        const scene = sceneFor(oneLamp(lamp))
        const pose = polarPose(straight, 'lean', tilt, angle)
        const { rotation } = standIn({ ...scene, view: { ...scene.view, pose } })
        const normal = rotation.map(row => row[2])
        expect(normal[0]).toBeCloseTo(Math.sin(rad(tilt)) * Math.cos(rad(angle)), 12)
        expect(normal[1]).toBeCloseTo(Math.sin(rad(tilt)) * Math.sin(rad(angle)), 12)
      }
  })

  test('of a concentric effect does not change as it is turned', () => {
    const rings = made(plain, (x, y) => ({ gratings: [{ ...groove, azimuth: Math.atan2(y, x) }] }), {
      ...plan,
      size: 512,
    })
    const area = rings.area(30)
    for (const tilt of [0, 20, 40]) {
      const all = Array.from({ length: 8 }, (_, i) => area.at(polarPose(straight, 'turn', tilt, 45 * i))![1])
      const mean = all.reduce((a, b) => a + b) / all.length
      expect(mean).toBeGreaterThan(0.01)
      // Places fall on pixels of the map: 0.16 mm of 30, a third of a degree of the rings' direction.
      for (const Y of all) expect(Math.abs(Y - mean) / mean).toBeLessThan(0.15)
    }
  })

  test('of a grating in one direction does, and repeats after half a turn', () => {
    const area = made(plain, bare).area(30)
    const lit = (angle: number) => area.at(polarPose(straight, 'turn', 0, angle))![1]
    expect(lit(0)).toBeGreaterThan(20 * lit(90))
    for (const angle of [0, 3, 40]) expect(lit(angle + 180)).toBeCloseTo(lit(angle), 6)
  })
})

test('turning a grating and the lamp together changes nothing', () => {
  const around = (azimuthDeg: number, pose: PanelPose): XYZ => {
    const scene = sceneFor(oneLamp({ ...lamp, azimuthDeg }))
    return made(scene, bare).area(0).at(pose)!
  }
  const before = around(90, straight)
  const after = around(130, { ...straight, turnDeg: 40 })
  for (let c = 0; c < 3; c++) expect(after[c]).toBeCloseTo(before[c]!, 9)
})

/** Tilt away from the eye at which order 1 of u micrometres per micrometre meets it: bisection. */
function tiltFor(u: number): number {
  const at = (tilt: number) => Math.sin(rad(30 - tilt)) - Math.sin(rad(tilt))
  let [low, high] = [-60, 15]
  for (let i = 0; i < 60; i++) {
    const mid = (low + high) / 2
    if (at(mid) > u) low = mid
    else high = mid
  }
  return low
}

function search(scene: Scene, sweeper: Sweeper) {
  const looked = Array.from({ length: searchRows }, (_, row) => searchRow(sweeper, 0, row)).flat()
  const found = extremesOf(sweeper, scene, 0, looked)
  if (found === null) throw new Error('nothing in sight')
  return found
}
