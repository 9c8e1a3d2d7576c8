import { describe, expect, test } from 'vitest'
import { pyramid } from '../../../core/material/mip.ts'
import { bakeTables } from '../../../core/optics/bake.ts'
import { sinusoid } from '../../../core/optics/groove.ts'
import { bakingsOf } from '../../../core/reference/baking.ts'
import { frameCamera } from '../../../core/reference/camera.ts'
import { asPrinted, type Overlay } from '../../../core/reference/overlay.ts'
import { liftPart } from '../../../core/reference/overlay-lay.ts'
import { standIn, toTable } from '../../../core/reference/pose.ts'
import { renderTile } from '../../../core/reference/render.ts'
import type { PanelPose, Scene } from '../../../core/reference/scene.ts'
import { stackSeen } from '../../../core/reference/stack-seen.ts'
import { Sweeper } from '../../../core/reference/sweep.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../support/paint-map.ts'
import { discLamp, sceneFor } from '../../support/scene.ts'

/** A spot is read as the picture shows it, also where leaves lie apart; the picture's pixel is the second way to it. */

const groove = {
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
/** Cyan on the left half, white on the lower half, grating everywhere. */
const painted = (x: number, y: number): PaintStack => ({
  gratings: [groove],
  cmyk: [x < 0 ? 0.8 : 0, 0, 0, 0],
  whites: [y < 0 ? 1 : 0],
})
const lamp = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
const plain = sceneFor({
  lamps: [discLamp(lamp), { ...discLamp({ ...lamp, azimuthDeg: 20, diameterMm: 260 }, 'A'), lux: 200 }],
  roomLevel: 0.2,
})
const map = paintMap(plan, painted)
const sets = bakingsOf(plain, map).map(bakeTables)
const levels = pyramid(map)

function laid(overlay: Partial<Overlay>, pose: PanelPose): Scene {
  return { ...plain, view: { ...plain.view, pose, overlay: { ...asPrinted, ...overlay } } }
}

/** The pixel of a picture that is turned up so far that it sees this place of the board alone. */
function pixel(held: Scene, xMm: number, yMm: number): readonly number[] {
  const [px, py, pz] = toTable(standIn(held).view, [xMm - sideMm / 2, yMm - sideMm / 2, 0])
  const { top } = frameCamera(map, 400, 1)
  const zoom = { scale: 800, x: px / (400 - pz) / top, y: py / (400 - pz) / top }
  const picture = renderTile(
    held,
    levels,
    sets,
    { width: 1, height: 1, grid: 1, zoom },
    { top: 0, bottom: 1 },
  )
  return [...picture.subarray(0, 3)]
}

const straight: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }
const poses = [
  straight,
  { ...straight, tiltForwardDeg: 15.5 },
  { tiltForwardDeg: -24, tiltSideDeg: 31, turnDeg: 77 },
]
const film = { ...asPrinted.film, registerMm: [3, -2] } as const
const { shown } = asPrinted
const overlays: readonly (readonly [string, Partial<Overlay>])[] = [
  ['a film proof out of register', { laid: 'film', film }],
  ['leaves lifted', { lift: 0.4 }],
  ['a film proof lifted', { laid: 'film', lift: 0.15, film }],
  ['without white', { shown: { ...shown, white: false } }],
  ['the white alone, lifted', { lift: 0.2, shown: { board: false, white: true, overprint: false } }],
]

describe('a sweep of leaves that lie apart', () => {
  test.each(overlays)('%s: the pixel of the reference picture that sees the place', (_, overlay) => {
    let other = 0
    for (const [xMm, yMm] of [
      [20.625, 50.625],
      [38.125, 38.125],
      [60.625, 20.625],
    ] as const)
      for (const pose of poses) {
        const held = laid(overlay, pose)
        const swept = new Sweeper(plain, map, sets, [{ xMm, yMm }]).at(pose)
        const read = new Sweeper(held, map, sets, [{ xMm, yMm }]).at(pose)
        // As of the print: 32-bit numbers, and a ray that meets the place to 1e-9.
        for (const [c, value] of pixel(held, xMm, yMm).entries())
          expect(Math.abs(read![c]! - value)).toBeLessThanOrEqual(1e-5 * (0.01 + value))
        if (Math.abs(read![1] - swept![1]) > 1e-3 * (0.01 + swept![1])) other++
      }
    // It is the proof that is read, not the print.
    expect(other).toBeGreaterThan(0)
  })
})

describe('the stack that the eye meets', () => {
  // The eye stands 400 mm above the middle; a leaf at height h is crossed h/400 of the way to the middle (similar triangles).
  test('inks and white are those where its ray crosses their leaves', () => {
    const held = laid({ lift: 0.5 }, straight)
    const height = 0.5 * liftPart * sideMm
    // The place lies just outside the cyan, right of the middle line by half of what the ray moves toward it.
    const farRight = sideMm / 2 + 1
    expect(stackSeen(plain, map, farRight, 50).cmyk[0]).toBe(0)
    const shifted = laid({ lift: 0.5, laid: 'film', film: { ...film, registerMm: [2, 0] } }, straight)
    const crossing = 1 - (1 * 2 * height) / 400 - 2
    expect(crossing).toBeLessThan(0)
    expect(stackSeen(shifted, map, farRight, 50).cmyk[0]).toBeGreaterThan(0.7)
    expect(stackSeen(held, map, farRight, 50).cmyk[0]).toBe(0)
    expect(stackSeen(held, map, 60, 20).whites[0]!.coverage).toBe(1)
  })

  test('what is hidden is not met, and the print is its own stack', () => {
    const none = stackSeen(
      laid({ shown: { board: false, white: false, overprint: false } }, straight),
      map,
      20,
      20,
    )
    expect(none).toMatchObject({ metal: 0, gratings: [], cmyk: [0, 0, 0, 0] })
    expect(none.whites[0]!.coverage).toBe(0)
    const print = stackSeen(plain, map, 20, 20)
    expect(print.cmyk[0]).toBeGreaterThan(0.7)
    expect(print).toEqual(stackSeen(laid({}, straight), map, 20, 20))
  })
})

test('the same ink on white keeps the ink that is seen, without metal and white', () => {
  const [xMm, yMm] = [41, 50]
  const registered: Partial<Overlay> = { laid: 'film', film: { ...film, registerMm: [5, 0] } }
  const onWhite = (overlay: Partial<Overlay>) =>
    new Sweeper(laid(overlay, straight), map, sets, [{ xMm, yMm }]).onWhite(straight)!
  const bare = onWhite({})
  const cyan = onWhite(registered)
  // Cyan takes red: X falls more than Z.
  expect(cyan[0] / bare[0]).toBeLessThan(0.7)
  expect(cyan[2] / bare[2]).toBeGreaterThan(cyan[0] / bare[0])
})
