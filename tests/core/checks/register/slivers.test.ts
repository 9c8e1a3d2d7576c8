import { expect, test } from 'vitest'
import type { Rings } from '../../../../core/base/polygons.ts'
import type { BoxMm } from '../../../../core/checks/finding.ts'
import { ContourTracer } from '../../../../core/checks/register/contours.ts'
import {
  affineOf,
  asDrawn,
  type Group,
  type GroupMotion,
  inverseOf,
  movedPoint,
} from '../../../../core/checks/register/groups.ts'
import type { Halo } from '../../../../core/checks/register/halo.ts'
import { sliversOf } from '../../../../core/checks/register/slivers.ts'
import { budgetOf, type Pair } from '../../../../core/checks/register/tolerance.ts'
import { chance } from '../../../../core/effects/chance.ts'
import type { PointMm } from '../../../../core/effects/outline.ts'

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
})

/** Mm² in a box where the two lie as the rule says, by rows of shifted pictures 0.01 mm apart. */
function countedIn(
  box: BoxMm,
  [a, b]: readonly [Rings, Rings],
  [first, second]: readonly [GroupMotion, GroupMotion],
  middle: PointMm,
  shows: (a: boolean, b: boolean) => boolean,
): number {
  const rows = 100 * Math.round(box.topMm - box.bottomMm)
  const step = (box.topMm - box.bottomMm) / rows
  const lain = [shifted(a, first, middle), shifted(b, second, middle)] as const
  let sum = 0
  for (let row = 0; row < rows; row++) {
    const [edgesA, edgesB] = lain.map(rings => crossings(rings, box.bottomMm + (row + 0.5) * step))
    const all = [box.leftMm, ...edgesA!, ...edgesB!, box.rightMm]
      .filter(x => x >= box.leftMm && x <= box.rightMm)
      .toSorted((p, q) => p - q)
    for (let i = 0; i + 1 < all.length; i++) {
      const middleX = (all[i]! + all[i + 1]!) / 2
      const odd = (edges: readonly number[]) => edges.filter(x => x < middleX).length % 2 === 1
      if (shows(odd(edgesA!), odd(edgesB!))) sum += (all[i + 1]! - all[i]!) * step
    }
  }
  return sum
}

const shifted = (rings: Rings, motion: GroupMotion, middle: PointMm): Rings =>
  rings.map(ring => ring.map(place => movedPoint(affineOf(motion, middle), place)))

const crossings = (rings: Rings, y: number): readonly number[] =>
  rings.flatMap(ring =>
    ring.flatMap(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!
      return ay > y === by > y ? [] : [ax + ((bx - ax) * (y - ay)) / (by - ay)]
    }),
  )

/** A box of a panel of 200 × 150 mm, turned by 7.4° so that its sides do not run along the rows. */
const panel = (left: number, bottom: number, right: number, top: number): Rings[number] =>
  (
    [
      [left, bottom],
      [right, bottom],
      [right, top],
      [left, top],
    ] as const
  ).map(([x, y]) => [100 + c * (x - 100) - s * (y - 75), 75 + s * (x - 100) + c * (y - 75)] as const)

const large: Readonly<Record<string, Rings>> = {
  'one of 130 × 90 mm': [panel(30, 30, 160, 120)],
  'a frame of 150 × 100 mm': [panel(25, 25, 175, 125), panel(40, 40, 150, 110)],
  'cells of 35 × 32 mm': Array.from({ length: 12 }, (_, i) => {
    const [left, bottom] = [20 + (i % 4) * 40, 20 + Math.floor(i / 4) * 38]
    return panel(left, bottom, left + 35, bottom + 32)
  }),
}

test.each(Object.entries(large))(
  'of large shapes too, whole and in a box, whichever of the two moved: %s',
  (_name, rings) => {
    // Half a row of the longest side.
    const least = 0.02
    let shown = 0
    const beside = [panel(-60, -60, 260, 210), ...rings]
    for (let i = 0; i < 10; i++) {
      const drawn = (use: number, most: number): number => most * (2 * chance(i, 0, 12, use) - 1)
      // Together they go up to 20 mm and 1°, apart a misregister.
      const both =
        i % 2 === 0 ? asDrawn : { ...asDrawn, dxMm: drawn(0, 20), dyMm: drawn(1, 20), turn: drawn(2, 0.02) }
      const slipped = {
        ...asDrawn,
        dxMm: both.dxMm + drawn(3, 0.8),
        dyMm: both.dyMm + drawn(4, 0.8),
        turn: both.turn + drawn(5, 0.01),
        stretchX: 1 + drawn(6, 0.004),
        stretchY: 1 + drawn(7, 0.004),
      }
      const box =
        i < 2
          ? { leftMm: 0, bottomMm: 0, rightMm: 200, topMm: 150 }
          : { leftMm: 30, bottomMm: 20 + 2 * i, rightMm: 90 + 10 * i, topMm: 70 + 2 * i }
      for (const [pair, second, foil] of [
        [['colour', 'white'], rings, (a: boolean, b: boolean) => a && !b],
        [['holography', 'white'], beside, (a: boolean, b: boolean) => !a && !b],
      ] as const) {
        const regions = new Map<Group, Rings>([
          [pair[0], rings],
          [pair[1], second],
        ])
        const found = sliversOf(regions, pair, { [pair[0]]: both, [pair[1]]: slipped }, [100, 75], box)
        const areaOf = (halo: Halo) => found.find(one => one.halo === halo)?.areaMm2 ?? 0
        const brute = countedIn(box, [rings, second], [both, slipped], [100, 75], foil)
        if (brute > 1) shown++
        expect(Math.abs(areaOf('foil') - brute)).toBeLessThan(0.01 * brute + least)
        if (pair[0] === 'holography') continue
        const white = countedIn(box, [rings, second], [both, slipped], [100, 75], (a, b) => b && !a)
        expect(Math.abs(areaOf('white') - white)).toBeLessThan(0.01 * white + least)
      }
    }
    expect(shown).toBeGreaterThan(8)
  },
)

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
