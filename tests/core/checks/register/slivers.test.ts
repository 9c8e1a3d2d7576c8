import { expect, test } from 'vitest'
import type { Rings } from '../../../../core/base/polygons.ts'
import { ContourTracer } from '../../../../core/checks/register/contours.ts'
import {
  affineOf,
  asDrawn,
  type Group,
  type GroupMotion,
  inverseOf,
} from '../../../../core/checks/register/groups.ts'
import { sliversOf } from '../../../../core/checks/register/slivers.ts'
import { budgetOf, type Pair } from '../../../../core/checks/register/tolerance.ts'
import { chance } from '../../../../core/effects/chance.ts'

type Shape = (x: number, y: number) => boolean
const about = [10, 10] as const

/** Rings of a shape drawn as pixels of 600 ppi, each the mean of 4 × 4 places. */
function traced(shape: Shape, side = 20, ppi = 600): Rings {
  const pixels = Math.round((side / 25.4) * ppi)
  const step = side / pixels
  const tracer = new ContourTracer(pixels, [step, step], side)
  for (let row = 0; row < pixels; row++)
    tracer.push(
      Float32Array.from({ length: pixels }, (_, column) => {
        let sum = 0
        for (let j = 0; j < 16; j++)
          if (shape((column + ((j & 3) + 0.5) / 4) * step, side - (row + ((j >> 2) + 0.5) / 4) * step)) sum++
        return sum / 16
      }),
    )
  return tracer.finish()
}

/** Mm² of foil and of white that show, by counting places of shifted pictures; valid where the pair was drawn as one. */
function counted(shape: Shape, motion: GroupMotion): { readonly foil: number; readonly white: number } {
  const step = 0.0125
  const { xx, xy, yx, yy, x0, y0 } = inverseOf(affineOf(motion, about))
  let [foil, white] = [0, 0]
  for (let y = step / 2; y < 20; y += step)
    for (let x = step / 2; x < 20; x += step) {
      const ink = shape(x, y)
      const slipped = shape(xx * x + xy * y + x0, yx * x + yy * y + y0)
      if (ink && !slipped) foil++
      if (slipped && !ink) white++
    }
  return { foil: foil * step * step, white: white * step * step }
}

const disc: Shape = (x, y) => Math.hypot(x - 9, y - 11) < 6
const [c, s] = [Math.cos(0.13), Math.sin(0.13)]
/** Turned, so that its sides do not run along the places that are counted. */
const frame: Shape = (px, py) => {
  const [x, y] = [c * (px - 10) - s * (py - 10), s * (px - 10) + c * (py - 10)]
  return Math.abs(x) < 7.3 && Math.abs(y) < 6.1 && !(Math.abs(x + 1) < 3.2 && Math.abs(y - 1) < 2.4)
}
const slips: Readonly<Record<string, GroupMotion>> = {
  moved: { ...asDrawn, dxMm: 0.31, dyMm: -0.17 },
  turned: { ...asDrawn, dxMm: 0.2, dyMm: 0.1, turn: 0.02 },
  stretched: { ...asDrawn, dyMm: 0.25, stretchX: 1.02, stretchY: 0.985 },
}

test.each(
  Object.entries({ disc, frame }).flatMap(([name, shape]) =>
    Object.entries(slips).map(([how, motion]) => [name, how, shape, motion] as const),
  ),
)(
  'white that was drawn as its ink and slipped: %s, %s, within 1 % of counted places',
  (_name, _how, shape, motion) => {
    const rings = traced(shape)
    const regions = new Map<Group, Rings>([
      ['colour', rings],
      ['white', rings],
    ])
    const found = sliversOf(regions, ['colour', 'white'], { white: motion }, about)
    const counts = counted(shape, motion)
    for (const halo of ['foil', 'white'] as const) {
      const brute = counts[halo]
      const own = found.find(one => one.halo === halo)
      expect(Math.abs(own!.areaMm2 / brute - 1)).toBeLessThan(0.01)
      expect(own!.widestMm).toBeGreaterThan(0.15)
    }
  },
  60_000,
)

test('so it is for slips by chance: any way by up to 0.8 mm, turned by up to 0.03, stretched by up to 2 %', () => {
  const rings = traced(frame)
  const regions = new Map<Group, Rings>([
    ['colour', rings],
    ['white', rings],
  ])
  for (let i = 0; i < 8; i++) {
    const drawn = (use: number, most: number): number => most * (2 * chance(i, 0, 11, use) - 1)
    const motion: GroupMotion = {
      ...asDrawn,
      dxMm: drawn(0, 0.8),
      dyMm: drawn(1, 0.8),
      turn: drawn(2, 0.03),
      stretchX: 1 + drawn(3, 0.02),
      stretchY: 1 + drawn(4, 0.02),
    }
    const found = sliversOf(regions, ['colour', 'white'], { white: motion }, about)
    const counts = counted(frame, motion)
    for (const halo of ['foil', 'white'] as const) {
      const own = found.find(one => one.halo === halo)
      expect(Math.abs(own!.areaMm2 / counts[halo] - 1)).toBeLessThan(0.01)
    }
  }
}, 60_000)

test('a straight edge through pixels is found where it runs', () => {
  for (const edge of [7.013, 7.05, 7.09, 7.17]) {
    const [ring] = traced((x, y) => x > 3 && x < edge && y > 3 && y < 17, 20, 127)
    // 16 places a pixel of 0.2 mm tell an edge to 0.05 mm; what is between is the grid's.
    const furthest = Math.max(...ring!.map(([x]) => x))
    expect(Math.abs(furthest - (7 + 0.05 * Math.round((edge - 7) / 0.05)))).toBeLessThan(1e-6)
  }
})

test('foil shows between holography and white that met, as wide as they moved apart', () => {
  const left: Shape = (x, y) => x > 2 && x < 10.3 && y > 3 && y < 17
  const right: Shape = (x, y) => x >= 10.3 && x < 18 && y > 3 && y < 17
  const regions = new Map<Group, Rings>([
    ['holography', traced(left)],
    ['white', traced(right)],
  ])
  const [foil, ...others] = sliversOf(
    regions,
    ['holography', 'white'],
    { white: { ...asDrawn, dxMm: 0.4 } },
    about,
  )
  expect(others).toEqual([])
  expect(foil?.halo).toBe('foil')
  expect(Math.abs(foil!.areaMm2 / (0.4 * 14) - 1)).toBeLessThan(0.01)
  expect(Math.abs(foil!.widestMm - 0.4)).toBeLessThan(0.01)
})

test('a choke hides a slip that is smaller, and shortens a larger one by its width', () => {
  const wide: Shape = (x, y) => Math.abs(x - 10) < 6 && Math.abs(y - 10) < 5
  const choked: Shape = (x, y) => Math.abs(x - 10) < 5.8 && Math.abs(y - 10) < 4.8
  const regions = new Map<Group, Rings>([
    ['colour', traced(wide, 20, 1270)],
    ['white', traced(choked, 20, 1270)],
  ])
  const slipped = (dxMm: number) =>
    sliversOf(regions, ['colour', 'white'], { white: { ...asDrawn, dxMm } }, about)
  expect(slipped(0.18)).toEqual([])
  const [white, ...others] = slipped(0.5)
  expect(others).toEqual([])
  expect(white?.halo).toBe('white')
  expect(Math.abs(white!.areaMm2 / (0.3 * 9.6) - 1)).toBeLessThan(0.01)
})

test('groups that lie as drawn, or moved together, show nothing', () => {
  const rings = traced(disc)
  const regions = new Map<Group, Rings>([
    ['colour', rings],
    ['white', rings],
  ])
  const pair: Pair = ['colour', 'white']
  expect(sliversOf(regions, pair, {}, about)).toEqual([])
  const motion = slips.turned!
  expect(sliversOf(regions, pair, { colour: motion, white: motion }, about)).toEqual([])
})

test('a budget is the sum at worst and the root of the squares by chance: 0.15, 0.30, 0.10 mm', () => {
  // Arithmetic; the three numbers are an example of print to holography.
  const { worstMm, statisticalMm } = budgetOf([0.15, 0.3, 0.1])
  expect(worstMm).toBeCloseTo(0.55, 12)
  expect(statisticalMm).toBeCloseTo(0.35, 12)
})
