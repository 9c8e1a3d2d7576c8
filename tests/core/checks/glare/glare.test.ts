import { describe, expect, test } from 'vitest'
import { flashMap } from '../../../../core/checks/glare/flash-map.ts'
import { glareCheck, glareReport } from '../../../../core/checks/glare/glare.ts'
import { glareLimits } from '../../../../core/checks/glare/limits.ts'
import { mirrorPose } from '../../../../core/checks/glare/mirror-pose.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import { bakingsOf } from '../../../../core/reference/baking.ts'
import { lampPosition, panelRotation, standIn, toTable } from '../../../../core/reference/pose.ts'
import type { LampPose, Scene } from '../../../../core/reference/scene.ts'
import { Sweeper } from '../../../../core/reference/sweep.ts'
import { trayFolded } from '../../../support/carton.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const plan: PaintPlan = {
  size: 40,
  sideMm: 80,
  gratings: 1,
  whites: [{ opacity: 1, hits: 1 }],
  spots: [],
  varnish: false,
}
const lamp: LampPose = { azimuthDeg: 65, elevationDeg: 62, distanceMm: 500, diameterMm: 10 }
const rad = Math.PI / 180

/** A small square of holography in a white field; `area` 5 is the square. */
function painted(paint: (x: number, y: number) => PaintStack, inSquare: PaintStack): MaterialMap {
  const inside = (x: number, y: number) => Math.abs(x) < 0.2 && Math.abs(y) < 0.2
  const map = paintMap(plan, (x, y) => (inside(x, y) ? inSquare : paint(x, y)))
  const data = new Uint8Array(plan.size ** 2)
  for (let row = 16; row < 24; row++) data.fill(5, row * 40 + 16, row * 40 + 24)
  const areas = [...map.areas, { id: 5, name: 'Comet', layerId: 'comet', effect: 'plain' }]
  return { ...map, areas, planes: new Map(map.planes).set('area', { layout: 'full', components: 1, data }) }
}
const white = (): PaintStack => ({ whites: [1] })
const setsOf = (scene: Scene, map: MaterialMap) => bakingsOf(scene, map).map(bakeTables)

describe('the pose of a mirror', () => {
  test('halves the angle between lamp and eye, for any face', () => {
    for (const normal of [
      [0, 0, 1],
      [0, 1, 0],
      [0.6, 0, 0.8],
      [-0.36, 0.48, 0.8],
    ] as const)
      for (const eyeAt of [undefined, { sideDeg: 20, riseDeg: -15 }])
        for (const turnDeg of [0, 40, 200]) {
          const pose = mirrorPose(normal, lamp, eyeAt, turnDeg)
          if (pose === null) continue
          const turned = toTable(panelRotation(pose), normal)
          const eye =
            eyeAt === undefined
              ? [0, 0, 1]
              : [
                  Math.sin(eyeAt.sideDeg * rad) * Math.cos(eyeAt.riseDeg * rad),
                  Math.sin(eyeAt.riseDeg * rad),
                  Math.cos(eyeAt.sideDeg * rad) * Math.cos(eyeAt.riseDeg * rad),
                ]
          const sum = lampPosition(lamp).map((part, i) => part / lamp.distanceMm + eye[i]!)
          const size = Math.hypot(...sum)
          for (let c = 0; c < 3; c++) expect(turned[c]).toBeCloseTo(sum[c]! / size, 9)
        }
    expect(mirrorPose([0, 0, 1], lamp, undefined, 0)).not.toBeNull()
    // A face that looks along the axis of the tilt keeps its height whatever the tilt.
    expect(mirrorPose([1, 0, 0], lamp, undefined, 0)).toBeNull()
  })
})

describe('glare', () => {
  const scene = sceneFor(oneLamp(lamp, 0.1))

  test('of foil is worst where it shows the lamp, which no view of the grid does', () => {
    const map = painted(white, {})
    const sets = setsOf(scene, map)
    const { areas } = glareReport({ map, scene, sets, limits: {} })
    expect(areas.map(({ id, name }) => [id, name])).toEqual([[5, 'Comet']])
    const { glare, darkest } = areas[0]!.frames
    // By hand: the normal halves the angle between the lamp and straight up.
    const half = lampPosition(lamp).map((part, i) => part / 500 + (i === 2 ? 1 : 0))
    const length = Math.hypot(...half)
    const normal = panelRotation(glare.pose).map(row => row[2])
    const off = Math.acos(normal.reduce((sum, part, i) => sum + (part * half[i]!) / length, 0)) / rad
    // The square reaches 11 mm from the middle: 1.3° of lamp, 1.6° of eye, half of both.
    expect(off).toBeLessThan(1.5)
    expect(glare.luminance).toBeGreaterThan(100)
    expect(darkest.luminance).toBeLessThan(0.2)
    // No pose of a fine raster is brighter than what was found, over all pixels of the square.
    const steps = Array.from({ length: 8 }, (_, i) => 33 + 2 * i)
    const places = steps.flatMap(xMm => steps.map(yMm => ({ xMm, yMm })))
    const sweeper = new Sweeper(scene, map, sets, places)
    let most = 0
    for (let tilt = 0; tilt <= 30; tilt += 1)
      for (let side = -20; side <= 20; side += 1)
        most = Math.max(most, sweeper.at({ tiltForwardDeg: tilt, tiltSideDeg: side, turnDeg: 0 })![1])
    expect(glare.luminance).toBeGreaterThan(0.98 * most)
  })

  test('a grating looks best in a colour, and white is neither glaring nor dark', () => {
    const groove = {
      pitch: 1100,
      azimuth: 0.4,
      grooveDepth: 100,
      groove: sinusoid,
      spreadAlong: 0,
      spreadAcross: 0,
    }
    const map = painted(white, { gratings: [{ ...groove, share: 1 }] })
    const { whole, areas } = glareReport({ map, scene, sets: setsOf(scene, map), limits: {} })
    expect(areas[0]!.frames.best.chroma).toBeGreaterThan(40)
    expect(areas[0]!.frames.best.chroma).toBeGreaterThan(2 * whole!.frames.best.chroma)
    expect(areas[0]!.frames.glare.luminance).toBeGreaterThan(whole!.frames.glare.luminance)
    expect(areas[0]!.frames.darkest.luminance).toBeLessThan(whole!.frames.darkest.luminance)
  })

  test('is told with place, number, limit and how it is held', async () => {
    const map = painted(white, {})
    const input = { map, scene, sets: setsOf(scene, map), limits: {} } as unknown as CheckInput
    const findings = await glareCheck.run(input)
    expect(findings.map(({ code, where, severity }) => [code, where, severity])).toEqual([
      ['glare-worst', 'the whole carton', 'note'],
      ['dark-worst', 'the whole carton', 'note'],
      ['best-view', 'the whole carton', 'note'],
      ['glare-worst', 'Comet', 'note'],
      // Foil that shows neither lamp nor ceiling is darker than black ink on paper.
      ['dark-worst', 'Comet', 'note'],
    ])
    const comet = findings[3]!
    expect(comet.box).toEqual({ leftMm: 32, rightMm: 48, bottomMm: 32, topMm: 48 })
    expect(comet.measured!.value).toBeGreaterThan(comet.limit!.value)
    expect(comet.limit).toMatchObject({ key: 'glare-luminance', value: 10, status: 'proposed' })
    expect(comet.message).toMatch(/^brightest held top \d+° away, .*: \d+ times as bright as white paper$/)
    expect(comet.held).not.toBeNull()
    expect(new Set(findings.map(({ key }) => key)).size).toBe(findings.length)
    // A job that lets it dazzle hears nothing of that.
    const own = { 'glare-luminance': { value: glareLimits['glare-luminance'].range[1], note: 'client' } }
    const allowed = await glareCheck.run({ ...input, limits: own })
    expect(allowed.map(({ key }) => key)).toEqual(
      findings.map(({ key }) => key).filter(key => key !== comet.key),
    )
  })

  test('of a map without pixels of an area is nothing', () => {
    const map = paintMap(plan, white)
    expect(glareReport({ map, scene, sets: setsOf(scene, map), limits: {} }).areas).toEqual([])
  })
})

describe('the flash map of a folded carton', () => {
  const map = paintMap(plan, () => ({}))
  const scene: Scene = { ...sceneFor(oneLamp(lamp)), solid: trayFolded(1) }
  const sets = setsOf(scene, map)
  const at = (azimuthDeg: number, elevationDeg: number, diameterMm: number) => ({
    name: 'lamp',
    pose: { ...lamp, azimuthDeg, elevationDeg, diameterMm },
    form: { kind: 'disc' } as const,
  })

  test('lights the front where eye and lamp are each other’s mirror, between the eye places too', () => {
    const grid = {
      lamps: [at(90, 67, 10), at(270, 67, 10)],
      sides: { fromDeg: -40, count: 5, stepDeg: 20 },
      rises: { fromDeg: -40, count: 5, stepDeg: 20 },
    }
    const { panels, eyes, most, seen } = flashMap(scene, map, sets, grid)
    const front = panels.indexOf('front')
    for (const lampIndex of [0, 1]) {
      const lit = eyes.filter((_, e) => most[(front * 2 + lampIndex) * eyes.length + e]! > 50)
      // The lamp stands 23° off the normal above or below: its mirror lies 23° off on the other side, in the cell of 20°.
      expect(lit).toEqual([{ sideDeg: 0, riseDeg: lampIndex === 0 ? -20 : 20 }])
    }
    const straightOn = eyes.findIndex(({ sideDeg, riseDeg }) => sideDeg === 0 && riseDeg === 0)
    expect(seen[front * 2 * eyes.length + straightOn]).toBe(1)
  })

  test('sees no side of the box from in front, and one from its side', () => {
    const grid = {
      lamps: [at(0, 60, 20)],
      sides: { fromDeg: -60, count: 3, stepDeg: 60 },
      rises: { fromDeg: 0, count: 1, stepDeg: 10 },
    }
    const { panels, eyes, seen, luminance } = flashMap(scene, map, sets, grid)
    const ofEye = (panel: string) => eyes.map((_, e) => seen[panels.indexOf(panel) * eyes.length + e]!)
    expect(ofEye('right')[1]).toBe(0)
    expect(ofEye('right')[0]).toBe(0)
    expect(ofEye('right')[2]).toBe(1)
    expect(ofEye('left')).toEqual([1, 0, 0])
    for (const [i, part] of seen.entries()) expect(Number.isNaN(luminance[i]!)).toBe(part === 0)
  })

  test('is that of the reference from the same eye where no flash is near', () => {
    const board = paintMap(plan, white)
    const grid = {
      lamps: [at(90, 60, 20)],
      sides: { fromDeg: 10, count: 1, stepDeg: 0.1 },
      rises: { fromDeg: 5, count: 1, stepDeg: 0.1 },
    }
    const flat = sceneFor(oneLamp({ ...lamp, azimuthDeg: 90, elevationDeg: 60, diameterMm: 20 }))
    const held = { ...flat, view: { ...flat.view, eyeAt: { sideDeg: 10, riseDeg: 5 } } }
    const whiteSets = setsOf(flat, board)
    const { luminance, panels } = flashMap(flat, board, whiteSets, grid)
    const places = [1, 3, 5].flatMap(i => [1, 3, 5].map(j => ({ xMm: (i * 80) / 6, yMm: (j * 80) / 6 })))
    const truth = new Sweeper(held, board, whiteSets, places).at(held.view.pose)![1]
    expect(panels).toEqual(['panel'])
    expect(standIn(held).eye[2]).toBeGreaterThan(0)
    expect(Math.abs(luminance[0]! - truth) / truth).toBeLessThan(0.01)
  })
})
