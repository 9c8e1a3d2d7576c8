import { describe, expect, test } from 'vitest'
import { brightPixels } from '../../../../core/checks/glare/bright-pixels.ts'
import { glareReport } from '../../../../core/checks/glare/glare.ts'
import { lookAt } from '../../../../core/checks/glare/look.ts'
import { NoteBook } from '../../../../core/checks/glare/place-notes.ts'
import { subjectOf } from '../../../../core/checks/glare/subject.ts'
import { allPixels } from '../../../../core/checks/sweep/map-pixels.ts'
import { chance } from '../../../../core/effects/chance.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import { bakeTables } from '../../../../core/optics/bake.ts'
import { sinusoid } from '../../../../core/optics/groove.ts'
import type { Tables } from '../../../../core/optics/tables.ts'
import { bakingsOf } from '../../../../core/reference/baking.ts'
import { frameCamera, wholeView } from '../../../../core/reference/camera.ts'
import { leafViews, nearestLeaf, rayAt } from '../../../../core/reference/leaf-views.ts'
import { standIn } from '../../../../core/reference/pose.ts'
import { renderTile } from '../../../../core/reference/render.ts'
import type { LampPose, PanelPose, Scene } from '../../../../core/reference/scene.ts'
import { flatSolid, noHit } from '../../../../core/reference/solid.ts'
import { trayFolded } from '../../../support/carton.ts'
import { type PaintPlan, type PaintStack, paintMap } from '../../../support/paint-map.ts'
import { oneLamp, sceneFor } from '../../../support/scene.ts'

const lamp: LampPose = { azimuthDeg: 65, elevationDeg: 62, distanceMm: 500, diameterMm: 40 }
const scene = sceneFor(oneLamp(lamp, 0.1))
const setsOf = (map: MaterialMap) => bakingsOf(scene, map).map(bakeTables)
const plan = (size: number, sideMm: number): PaintPlan => ({
  size,
  sideMm,
  gratings: 1,
  whites: [{ opacity: 1, hits: 1 }],
  spots: [],
  varnish: false,
})
const grating = (pitch: number, azimuth: number): PaintStack => ({
  gratings: [
    { pitch, azimuth, share: 1, grooveDepth: 100, groove: sinusoid, spreadAlong: 0.01, spreadAcross: 0.01 },
  ],
})

/** The map with one area, id 5, where `within` says, −1..1. */
function withArea(map: MaterialMap, within: (x: number, y: number) => boolean): MaterialMap {
  const { width, height } = map
  const data = new Uint8Array(width * height)
  for (let row = 0; row < height; row++)
    for (let column = 0; column < width; column++)
      if (within(((column + 0.5) / width) * 2 - 1, 1 - ((row + 0.5) / height) * 2))
        data[row * width + column] = 5
  const areas = [...map.areas, { id: 5, name: 'Comet', layerId: 'comet', effect: 'plain' }]
  return { ...map, areas, planes: new Map(map.planes).set('area', { layout: 'full', components: 1, data }) }
}

const side = 240
/** So far off that a turned panel's corners stay in the picture. */
const zoom = { ...wholeView, scale: 0.75 }

/** Mean Y of the pixels of the exact picture whose rays meet a panel's print side, in an area where one is named. */
function meanOfPicture(held: Scene, map: MaterialMap, sets: readonly Tables[], area: number | null): number {
  const size = { width: side, height: side, grid: 1, zoom }
  const picture = renderTile(held, [map], sets, size, { top: 0, bottom: side })
  const { solid = flatSolid(map), view } = held
  const standing = standIn(held)
  const camera = frameCamera(solid, view.eyeDistanceMm, 1, zoom)
  const views = leafViews(solid, camera, standing, view.eyeDistanceMm, side, side)
  const areas = map.planes.get('area')?.data
  let sum = 0
  let count = 0
  for (let row = 0; row < side; row++)
    for (let column = 0; column < side; column++) {
      const hit = noHit()
      const nearest = nearestLeaf(views, column + 0.5, row + 0.5, hit)
      if (nearest === null || hit.face === 'board') continue
      if (solid.leaves.length > 1 && nearest.leaf.caliperMm === 0) continue
      const ray = rayAt(nearest.rays, column + 0.5, row + 0.5)
      const u = (nearest.rays.eye[0] + hit.t * ray[0]) / map.widthMm + 0.5
      const v = 0.5 - (nearest.rays.eye[1] + hit.t * ray[1]) / map.heightMm
      if (u < 0 || u >= 1 || v < 0 || v >= 1) continue
      if (
        area !== null &&
        areas![Math.floor(v * map.height) * map.width + Math.floor(u * map.width)] !== area
      )
        continue
      sum += picture[4 * (row * side + column) + 1]!
      count++
    }
  expect(count).toBeGreaterThan(200)
  return sum / count
}

const holding = (base: Scene, pose: PanelPose): Scene => ({ ...base, view: { ...base.view, pose } })

describe('what the search of glare found', () => {
  // Round, so that no edge of it runs along a row of the picture.
  const spot = (x: number, y: number): boolean => Math.hypot(x, y) < 0.55
  const map = withArea(
    paintMap(plan(50, 30), (x, y) => (spot(x, y) ? grating(1100, 0.4 + 0.2 * x) : { whites: [1] })),
    spot,
  )
  const sets = setsOf(map)

  const { whole, areas } = glareReport({ map, scene, sets, limits: {} })

  test('has the light of the exact picture held so, for area and panel, within 1 %', () => {
    for (const [frames, area] of [
      [whole!.frames, null],
      [areas[0]!.frames, 5],
    ] as const)
      for (const frame of [frames.glare, frames.darkest, frames.best]) {
        const truth = meanOfPicture(holding(scene, frame.pose), map, sets, area)
        expect(Math.abs(frame.luminance / truth - 1)).toBeLessThan(0.01)
      }
  })

  test('is beaten by none of 400 poses taken by chance', () => {
    const { frames } = areas[0]!
    const pixels = allPixels(map).filter(pixel => map.planes.get('area')!.data[pixel] === 5)
    const subject = subjectOf(scene, map, sets, 'Comet', pixels)!
    const faces = subject.faces(200)
    for (let i = 0; i < 400; i++) {
      const pose = {
        tiltForwardDeg: 120 * chance(i, 0, 7, 0) - 60,
        tiltSideDeg: 120 * chance(i, 0, 7, 1) - 60,
        turnDeg: 360 * chance(i, 0, 7, 2),
      }
      const frame = lookAt(subject, faces, pose, 10)!
      expect(frame.luminance).toBeLessThan(1.02 * frames.glare.luminance)
      expect(frame.luminance).toBeGreaterThan(0.98 * frames.darkest.luminance)
      expect(frame.chroma).toBeLessThan(1.1 * frames.best.chroma)
    }
  })
})

describe('a dense raster of poses', () => {
  const striped = (x: number): number => (Math.abs(x * 8) % 1 < 0.5 ? 1100 : 1400)
  const map = withArea(
    paintMap(plan(60, 60), (x, y) =>
      Math.abs(x) < 0.8 && Math.abs(y) < 0.8 ? grating(striped(x), 0.4 + 0.3 * y) : { whites: [1] },
    ),
    (x, y) => Math.abs(x) < 0.8 && Math.abs(y) < 0.8,
  )
  const sets = setsOf(map)
  const { areas } = glareReport({ map, scene, sets, limits: {} })
  const pixels = allPixels(map).filter(pixel => map.planes.get('area')!.data[pixel] === 5)
  const subject = subjectOf(scene, map, sets, 'Comet', pixels)!
  const faces = subject.faces(120)
  const steps = (most: number, step: number) =>
    Array.from({ length: (2 * most) / step + 1 }, (_, i) => i * step - most)

  test('has no frame that is more than a few percent brighter, darker or more colourful', () => {
    const { frames } = areas[0]!
    const own = (frame: keyof typeof frames) => lookAt(subject, faces, frames[frame].pose, 10)!
    const found = {
      glare: own('glare').luminance,
      darkest: own('darkest').luminance,
      best: own('best').chroma,
    }
    let [light, dark, colour] = [0, Number.POSITIVE_INFINITY, 0]
    for (const turnDeg of steps(180, 30))
      for (const tiltSideDeg of steps(60, 20))
        for (const tiltForwardDeg of steps(60, 4)) {
          const { luminance, chroma } = lookAt(subject, faces, { tiltForwardDeg, tiltSideDeg, turnDeg }, 10)!
          light = Math.max(light, luminance)
          dark = Math.min(dark, luminance)
          colour = Math.max(colour, chroma)
        }
    // By the same places, which are others than those of the search: 5 % are theirs.
    expect(found.glare).toBeGreaterThan(0.95 * light)
    expect(found.darkest).toBeLessThan(1.05 * dark)
    expect(found.best).toBeGreaterThan(0.95 * colour)
  })

  test('an edit is found the same whether something is known from before or not', () => {
    const paint = (shift: number) =>
      withArea(
        paintMap(plan(60, 60), (x, y) =>
          Math.abs(x - shift) < 0.4 && Math.abs(y) < 0.8
            ? grating(striped(x), 0.4 + 0.3 * y)
            : { whites: [1] },
        ),
        (x, y) => Math.abs(x - shift) < 0.4 && Math.abs(y) < 0.8,
      )
    const book = new NoteBook()
    const reportOf = (edited: MaterialMap, known: NoteBook) =>
      glareReport({ map: edited, scene, sets, limits: {} }, undefined, {
        book: known,
        bright: brightPixels(edited),
      })
    reportOf(paint(0), book)
    const moved = paint(0.1)
    expect(reportOf(moved, book)).toEqual(reportOf(moved, new NoteBook()))
  })
})

describe('a folded carton', () => {
  const paint = (x: number, y: number): PaintStack => ({
    ...grating(900, 0.2 * x),
    whites: [y > 0.1 ? 0 : 1],
  })

  test('counts nothing that lies behind another panel', () => {
    // The lid stands up towards the eye and its tongue hangs down before the front: a strip of it faces the eye behind.
    const strip = (x: number, y: number): boolean => Math.abs(x) < 0.4 && y > 0.17 && y < 0.33
    const map = withArea(paintMap(plan(160, 80), paint), strip)
    const sets = setsOf(map)
    const solid = trayFolded(0, { 'front to lid': -90, 'lid to tongue': -90 })
    const folded: Scene = { ...scene, solid }
    const pixels = allPixels(map).filter(pixel => map.planes.get('area')!.data[pixel] === 5)
    const subject = subjectOf(folded, map, sets, 'strip', pixels)!
    const faces = subject.faces(20_000)
    expect(faces.map(({ index, normal }) => [solid.leaves[index]!.name, normal[2]])).toEqual([['front', 1]])
    expect(lookAt(subject, faces, folded.view.pose, 10)).toBeNull()
    // From below the eye looks in under the tongue.
    const seen = [-50, 50].flatMap(tiltForwardDeg => {
      const pose = { tiltForwardDeg, tiltSideDeg: 0, turnDeg: 0 }
      return lookAt(subject, faces, pose, 10) ?? []
    })
    expect(seen).toHaveLength(1)
    const truth = meanOfPicture(holding(folded, seen[0]!.pose), map, sets, 5)
    expect(Math.abs(seen[0]!.luminance / truth - 1)).toBeLessThan(0.01)
  })

  test('has the light of the exact picture, which its turned and hidden panels have no part in', () => {
    const map = paintMap(plan(160, 80), paint)
    const sets = setsOf(map)
    const box: Scene = { ...scene, solid: trayFolded(1) }
    const subject = subjectOf(box, map, sets, 'box', allPixels(map))!
    const faces = subject.faces(20_000)
    for (const pose of [
      { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 },
      { tiltForwardDeg: 25, tiltSideDeg: -35, turnDeg: 20 },
      { tiltForwardDeg: -20, tiltSideDeg: 40, turnDeg: 130 },
    ]) {
      const frame = lookAt(subject, faces, pose, 10)!
      const truth = meanOfPicture(holding(box, pose), map, sets, null)
      expect(Math.abs(frame.luminance / truth - 1)).toBeLessThan(0.01)
    }
  })

  test('with its only foil on a side that is turned away has no part of it straight on, and goes after it', () => {
    const right = (x: number, y: number): boolean => x > 0.55 && y < 0.35 && y > -0.45
    const map = withArea(
      paintMap(plan(80, 80), (x, y) => (right(x, y) ? {} : { whites: [1] })),
      right,
    )
    const sets = setsOf(map)
    const box: Scene = { ...scene, solid: trayFolded(1) }
    const { whole, areas } = glareReport({ map, scene: box, sets, limits: {} })
    const pixels = allPixels(map).filter(pixel => map.planes.get('area')!.data[pixel] === 5)
    const foil = subjectOf(box, map, sets, 'foil', pixels)!
    expect(lookAt(foil, foil.faces(2000), box.view.pose, 10)).toBeNull()
    const { frames } = areas[0]!
    for (const frame of [frames.glare, frames.darkest]) {
      const truth = meanOfPicture(holding(box, frame.pose), map, sets, 5)
      expect(Math.abs(frame.luminance / truth - 1)).toBeLessThan(0.01)
    }
    expect(frames.glare.luminance).toBeGreaterThan(1.5 * frames.darkest.luminance)
    const subject = subjectOf(box, map, sets, 'box', allPixels(map))!
    const straight = lookAt(subject, subject.faces(2000), box.view.pose, 10)!
    expect(straight.luminance).toBeGreaterThan(0.7)
    expect(straight.luminance).toBeLessThan(1.1)
    expect(whole!.frames.glare.luminance).toBeGreaterThan(straight.luminance)
  })
})
