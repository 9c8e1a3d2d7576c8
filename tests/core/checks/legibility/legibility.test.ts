import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { contrastRatio } from '../../../../core/checks/legibility/contrast.ts'
import { judgeType } from '../../../../core/checks/legibility/judge.ts'
import { type TypeObject, typeObjects } from '../../../../core/checks/legibility/object.ts'
import { heldViews } from '../../../../core/checks/legibility/usual.ts'
import type { HeldView } from '../../../../core/checks/legibility/view.ts'
import { whiteLevels } from '../../../../core/checks/legibility/white-level.ts'
import { usualGrid } from '../../../../core/checks/sweep/view-grid.ts'
import type { MaterialMap } from '../../../../core/material/map.ts'
import { cameraRays, frameCamera, panelPoint } from '../../../../core/reference/camera.ts'
import { standIn } from '../../../../core/reference/pose.ts'
import { renderTile } from '../../../../core/reference/render.ts'
import type { Scene } from '../../../../core/reference/scene.ts'
import { discLamp } from '../../../support/scene.ts'
import '../../../support/seed.ts'
import {
  type BlockText,
  coarseViews,
  groove,
  held,
  inBlocks,
  label,
  lamp,
  middleOf,
  needsOf,
  pixels,
  sideMm,
  textLayer,
  usualScene,
} from './fixture.ts'

const word: BlockText = { word: 'HELLENS', xMm: 4, yMm: 9, cellMm: 0.3 }
/** For pictures: few letters, so that every pixel of the map is met in each. */
const short: BlockText = { word: 'HEL', xMm: 7.4, yMm: 9, cellMm: 0.3 }
const black = (x: number, y: number) => ({ cmyk: [0, 0, 0, inBlocks(word, x, y) ? 1 : 0] as const })

const onFoil = (scene = usualScene) =>
  label([textLayer('Lot', word)], (x, y) => ({ gratings: [groove], ...black(x, y) }), { scene })
const onWhite = (scene = usualScene) =>
  label([textLayer('Lot', word)], (x, y) => ({ gratings: [groove], whites: [1], ...black(x, y) }), { scene })

const onlyObject = (input: CheckInput): TypeObject => {
  const [one] = typeObjects(input.art, input.assigned, input.map, [])
  if (one === undefined) throw new TypeError('expected one object of type')
  return one
}

async function judged(input: CheckInput, views?: readonly HeldView[], mostSpots?: number) {
  const needs = { ...needsOf(input, views), ...(mostSpots === undefined ? {} : { mostSpots }) }
  const one = await judgeType(input, onlyObject(input), needs)
  if (one.kind !== 'judged' || one.contrast === null) throw new TypeError(`expected a contrast: ${one.kind}`)
  return { ...one, contrast: one.contrast }
}

/** What each pixel of the map is to the type: 1 in a letter, 2 in the ring around, found pixel by pixel. */
function rolesOf(ringPixels: number): Uint8Array {
  const roles = new Uint8Array(pixels * pixels)
  for (let i = 0; i < roles.length; i++)
    roles[i] = inBlocks(short, ...middleOf(i % pixels, Math.floor(i / pixels))) ? 1 : 0
  for (let row = 0; row < pixels; row++)
    for (let column = 0; column < pixels; column++) {
      if (roles[row * pixels + column] !== 1) continue
      for (let v = -ringPixels; v <= ringPixels; v++)
        for (let u = -ringPixels; u <= ringPixels; u++) {
          const i = (row + v) * pixels + column + u
          if (u * u + v * v <= ringPixels ** 2 && roles[i] === 0) roles[i] = 2
        }
    }
  return roles
}

/** Contrast in a rendered picture: means over the map's pixels that are seen in it, of letters and of their ring. */
function pictureContrast(scene: Scene, input: CheckInput, roles: Uint8Array, flare: number): number {
  const { map, sets } = input
  const size = { width: 170, height: 90, grid: 1, zoom: { scale: 6, x: -0.005, y: 0.008 } }
  const picture = renderTile(scene, [map], sets, size, { top: 0, bottom: size.height })
  const standing = standIn(scene)
  const camera = frameCamera(map, scene.view.eyeDistanceMm, size.width / size.height, size.zoom)
  const rays = cameraRays(camera, standing, size.width, size.height)
  const seen = new Map<number, { sum: number; count: number }>()
  for (let y = 0; y < size.height; y++)
    for (let x = 0; x < size.width; x++) {
      const at = pixelAt(panelPoint(rays, x + 0.5, y + 0.5), map)
      if (at === null || roles[at] === 0) continue
      const one = seen.get(at) ?? { sum: 0, count: 0 }
      one.sum += picture[4 * (y * size.width + x) + 1]!
      one.count++
      seen.set(at, one)
    }
  const meanOf = (role: number): number => {
    const means = [...seen].flatMap(([at, { sum, count }]) => (roles[at] === role ? [sum / count] : []))
    expect(means.length).toBeGreaterThan(0.5 * roles.filter(one => one === role).length)
    return means.reduce((a, b) => a + b, 0) / means.length
  }
  const [x, y] = [short.xMm + 8.5 * short.cellMm - sideMm / 2, short.yMm + 3.5 * short.cellMm - sideMm / 2]
  const views = [{ pose: scene.view.pose, light: scene.light, weight: 1 }]
  const white = whiteLevels(scene, sets[0]!, views, x, y)[0]!
  return contrastRatio(meanOf(1) / white, meanOf(2) / white, flare)
}

function pixelAt(at: readonly [number, number] | null, map: MaterialMap): number | null {
  if (at === null) return null
  const column = Math.floor((at[0] / map.widthMm + 0.5) * map.width)
  const row = Math.floor((0.5 - at[1] / map.heightMm) * map.height)
  return column < 0 || row < 0 || column >= map.width || row >= map.height ? null : row * map.width + column
}

describe('contrast by brute force', () => {
  test('50 views made by chance: the picture has it within 2 %', async () => {
    // Half the word on white, half on holography.
    const input = label([textLayer('Lot', short)], (x, y) => ({
      gratings: [groove],
      whites: [x < 10 ? 1 : 0],
      cmyk: [0, 0, 0, inBlocks(short, x, y) ? 1 : 0],
    }))
    const roles = rolesOf(6)
    const pick = fc.record({
      pose: fc.record({
        tiltForwardDeg: fc.double({ min: -50, max: 50, noNaN: true }),
        tiltSideDeg: fc.double({ min: -50, max: 50, noNaN: true }),
        turnDeg: fc.double({ min: 0, max: 360, noNaN: true }),
      }),
      diameterMm: fc.constantFrom(10, 40, 300),
    })
    const views = fc.sample(pick, { numRuns: 50, seed: 7 }).map(
      ({ pose, diameterMm }): HeldView => ({
        pose,
        light: { lamps: [discLamp({ ...lamp, diameterMm })], roomLevel: 0.1 },
        weight: 1,
      }),
    )
    let worst = 0
    for (const view of views) {
      const { contrast } = await judged(input, [view], 400)
      const scene = { ...usualScene, light: view.light, view: { ...usualScene.view, pose: view.pose } }
      const seen = pictureContrast(scene, input, roles, 0.05)
      worst = Math.max(worst, Math.abs(contrast.least / seen - 1))
    }
    expect(worst).toBeLessThanOrEqual(0.02)
  }, 120_000)
})

describe('black type', () => {
  test('on bare foil vanishes where the foil is as dark as the ink', async () => {
    const { contrast, printed, worst } = await judged(onFoil())
    expect(printed).toEqual({ on: 'foil', reversed: false, inks: 1, inWhite: false })
    expect(contrast.drawn).toBe('darker')
    expect(contrast.least).toBeLessThan(1.2)
    expect(contrast.below).toBeGreaterThan(0.3)
    expect(worst).not.toBeNull()
  })

  test('on full white keeps its contrast outside the gloss highlight', async () => {
    const input = onWhite()
    const views = coarseViews(usualScene.light).filter(({ pose }) => awayFromMirror(pose) > 20)
    const straight = await judged(input, [{ pose: held(0, 0), light: usualScene.light, weight: 1 }])
    const { contrast, printed } = await judged(input, views)
    expect(printed).toEqual({ on: 'white', reversed: false, inks: 1, inWhite: false })
    expect(contrast.reversed).toBe(0)
    expect(contrast.below).toBe(0)
    // Within a tenth of head-on, a proposal of ours; beyond 40° the air surface sends more light into the eye.
    const near = contrast.curve.filter(one => one.tiltDeg <= 40)
    expect(near.length).toBeGreaterThan(3)
    for (const { least } of near) expect(least).toBeGreaterThan(0.9 * straight.contrast.least)
  })

  test('gives way to white type on bare foil, which does change places with it', async () => {
    const input = label([textLayer('Lot', word)], (x, y) => ({
      gratings: [groove],
      whites: [inBlocks(word, x, y) ? 1 : 0],
    }))
    const { contrast, printed } = await judged(input)
    expect(printed).toEqual({ on: 'foil', reversed: false, inks: 1, inWhite: true })
    expect(contrast.reversed).toBeGreaterThan(0.02)
    expect(contrast.reversed).toBeLessThan(0.5)
    // Between a view of either kind there is one in which it vanishes.
    const near = Array.from({ length: 81 }, (_, i) => ({
      pose: held(i / 4, 0),
      light: usualScene.light,
      weight: 1,
    }))
    const close = (await judged(input, near)).contrast
    expect(close.reversed).toBeGreaterThan(0)
    expect(close.reversed).toBeLessThan(1)
    expect(close.least).toBeLessThan(1.2)
  })

  test('worst view, curve and each view agree with each other', async () => {
    const { contrast, worst } = await judged(onFoil())
    expect(contrast.ratios.length).toBe(contrast.exchanged.length)
    expect(contrast.ratios[contrast.worst]).toBeCloseTo(contrast.least, 5)
    expect(contrast.exchanged.some(one => one === 1)).toBe(contrast.reversed > 0)
    const again = await judged(onFoil(), [{ ...worst!, weight: 1 }])
    expect(again.contrast.least).toBeCloseTo(contrast.least, 5)
    expect(Math.min(...contrast.curve.map(one => one.least))).toBe(contrast.least)
    expect(contrast.curve.map(one => one.tiltDeg)).toEqual([0, 10, 20, 30, 40, 50, 60])
  })
})

describe('the usual grid', () => {
  test('counts views as one sixteen times as fine does, under the narrowest lamp', async () => {
    const torch = usualGrid(usualScene).lamps[1]!
    const usual = { ...usualGrid(usualScene), lamps: [torch] }
    const fine = {
      lamps: [torch],
      turns: { fromDeg: -5.625, count: 96, stepDeg: 3.75 },
      tilts: { fromDeg: -61.875, count: 100, stepDeg: 1.25 },
    }
    for (const input of [onFoil(), onWhite()]) {
      const [coarse, close] = [
        (await judged(input, heldViews(usualScene, usual))).contrast,
        (await judged(input, heldViews(usualScene, fine))).contrast,
      ]
      // A tolerance of ours, for the worst case: one grating all over, whose flash passes every piece of type at once.
      expect(Math.abs(coarse.below - close.below)).toBeLessThan(0.03)
      expect(Math.abs(coarse.reversed - close.reversed)).toBeLessThan(0.03)
    }
  })
})

/** Degrees between the panel's normal and the direction in which it mirrors the lamp into the eye. */
function awayFromMirror({ tiltForwardDeg, tiltSideDeg }: HeldView['pose']): number {
  const [f, s] = [(tiltForwardDeg * Math.PI) / 180, (tiltSideDeg * Math.PI) / 180]
  const normal = [Math.sin(s) * Math.cos(f), Math.sin(f), Math.cos(s) * Math.cos(f)]
  // The lamp stands 30° from straight above, toward the top: halfway is 15°.
  const half = [0, Math.sin(Math.PI / 12), Math.cos(Math.PI / 12)]
  const cos = normal.reduce((sum, part, i) => sum + part * half[i]!, 0)
  return (Math.acos(Math.min(1, cos)) * 180) / Math.PI
}

describe('type that is smaller than a pixel of the map', () => {
  test('gets its ink from how pixels mix', async () => {
    // Strokes of 0.05 mm in pixels of 0.083 mm: no pixel is all ink.
    const fine: BlockText = { word: 'HELLENS', xMm: 4.013, yMm: 9.021, cellMm: 0.05 }
    const part = (column: number, row: number) => {
      let sum = 0
      const [x, y] = middleOf(column, row)
      for (let j = 0; j < 8; j++)
        for (let i = 0; i < 8; i++)
          if (
            inBlocks(
              fine,
              x + ((i + 0.5) / 8 - 0.5) * (sideMm / pixels),
              y + ((j + 0.5) / 8 - 0.5) * (sideMm / pixels),
            )
          )
            sum++
      return sum / 64
    }
    const pixelOf = (x: number, y: number) =>
      [Math.floor((x / sideMm) * pixels), Math.floor((1 - y / sideMm) * pixels)] as const
    const input = label([textLayer('Tiny', fine, { paint: (x, y) => [0, 0, 0, 1, part(x, y)] })], (x, y) => ({
      whites: [1],
      cmyk: [0, 0, 0, 0.8 * part(...pixelOf(x, y)) + 0.1],
    }))
    const views = [{ pose: held(0, 0), light: usualScene.light, weight: 1 }]
    const small = await judged(input, views)
    const wanted = label([textLayer('Big', word)], (x, y) => ({
      whites: [1],
      cmyk: [0, 0, 0, inBlocks(word, x, y) ? 0.9 : 0.1],
    }))
    const big = await judged(wanted, views)
    expect(Math.abs(small.contrast.least / big.contrast.least - 1)).toBeLessThan(0.05)
  })
})
