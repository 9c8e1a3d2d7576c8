import { expect, test } from 'vitest'
import type { Rings } from '../../../../core/base/polygons.ts'
import { asDrawn, composed, type Group, onCut, turnOf } from '../../../../core/checks/register/groups.ts'
import { sharedEdges } from '../../../../core/checks/register/shared-edges.ts'
import { sliversOf } from '../../../../core/checks/register/slivers.ts'
import { stripsOf } from '../../../../core/checks/register/strips.ts'
import type { Pair } from '../../../../core/checks/register/tolerance.ts'

const frame = { widthMm: 30, heightMm: 20 }
const about = [15, 10] as const

const box = (left: number, bottom: number, right: number, top: number): Rings => [
  [
    [left, bottom],
    [right, bottom],
    [right, top],
    [left, top],
  ],
]
const disc: Rings = [
  Array.from({ length: 720 }, (_, i): [number, number] => {
    const angle = (i * Math.PI) / 360
    return [14 + 6 * Math.cos(angle), 9 + 6 * Math.sin(angle)]
  }),
]
const edgesOf = (a: Rings, b: Rings) => sharedEdges(a, b, frame, 2)
const inkOnWhite: Pair = ['colour', 'white']

test('white that slipped under a box shows metal on one side and white on the other, as wide as it slipped', () => {
  const ink = box(5, 4, 25, 16)
  const { foil, white } = stripsOf(edgesOf(ink, ink), inkOnWhite, { white: { ...asDrawn, dxMm: 0.4 } }, about)
  for (const strips of [foil, white]) {
    expect(strips.areaMm2).toBeCloseTo(0.4 * 12, 9)
    expect(strips.widestMm).toBeCloseTo(0.4, 9)
  }
  // Metal on the left, where the ink reaches beyond the white; each strip lies between the two edges.
  const xs = (corners: Float64Array) => corners.filter((_, i) => i % 2 === 0)
  expect([Math.min(...xs(foil.corners)), Math.max(...xs(foil.corners))]).toEqual([5, 5.4])
  expect(Math.min(...xs(white.corners))).toBeCloseTo(25, 9)
  expect(Math.max(...xs(white.corners))).toBeCloseTo(25.4, 9)
})

test.each([
  ['moved', { white: { ...asDrawn, dxMm: 0.21, dyMm: -0.17 } }],
  ['turned', { white: { ...asDrawn, dxMm: 0.2, turn: 0.02 } }],
  ['stretched', { white: { ...asDrawn, dyMm: 0.25, stretchX: 1.005, stretchY: 0.997 } }],
  ['both moved', { white: { ...asDrawn, dxMm: 0.3 }, colour: { ...asDrawn, dyMm: 0.3, turn: 0.01 } }],
])('strips along a disc have the area of its exact slivers, within 1 %: %s', (_, motions) => {
  const strips = stripsOf(edgesOf(disc, disc), inkOnWhite, motions, about)
  const regions = new Map<Group, Rings>([
    ['colour', disc],
    ['white', disc],
  ])
  const slivers = sliversOf(regions, inkOnWhite, motions, about)
  for (const halo of ['foil', 'white'] as const) {
    const exact = slivers.find(one => one.halo === halo)!
    expect(Math.abs(strips[halo].areaMm2 / exact.areaMm2 - 1)).toBeLessThan(0.01)
    // The largest circle that fits into a lune is as wide as its middle.
    expect(Math.abs(strips[halo].widestMm - exact.widestMm)).toBeLessThan(0.01)
  }
})

test('a choke hides a slip that is smaller, and groups that moved together show nothing', () => {
  const edges = edgesOf(box(5, 4, 25, 16), box(5.3, 4.3, 24.7, 15.7))
  const shown = (motions: Parameters<typeof stripsOf>[2]) => stripsOf(edges, inkOnWhite, motions, about)
  expect(shown({ white: { ...asDrawn, dxMm: 0.25 } }).white.count).toBe(0)
  expect(shown({ white: { ...asDrawn, dxMm: 0.5 } }).white.widestMm).toBeCloseTo(0.2, 9)
  const far = { ...asDrawn, dxMm: 1, turn: 0.02 }
  expect(shown({ white: far, colour: far }).white.count).toBe(0)
})

test('a die that slipped takes what shows the other way', () => {
  const ink = box(5, 4, 25, 16)
  const at = (motions: Parameters<typeof stripsOf>[2]) =>
    Math.min(
      ...stripsOf(edgesOf(ink, ink), inkOnWhite, motions, about).foil.corners.filter((_, i) => i % 2 === 0),
    )
  const white = { ...asDrawn, dxMm: 0.4 }
  expect(at({ white, die: { ...asDrawn, dxMm: 1.5 } })).toBeCloseTo(at({ white }) - 1.5, 9)
})

test('groups that moved with the die lie as drawn on what it cut', () => {
  const one = { dxMm: 0.7, dyMm: -0.2, turn: 0.03, stretchX: 1.01, stretchY: 0.99 }
  const lies = onCut({ holography: one, die: one }, about)
  const still = { xx: 1, xy: 0, yx: 0, yy: 1, x0: 0, y0: 0 }
  for (const [key, value] of Object.entries(still))
    expect(lies.holography[key as keyof typeof still]).toBeCloseTo(value, 12)
  expect(turnOf(lies.white)).toBeCloseTo(-0.03, 3)
  // Applied one after the other, the way there and back is no way.
  const there = onCut({ white: one }, about).white
  const back = onCut({ die: one }, about).white
  for (const [key, value] of Object.entries(still))
    expect(composed(back, there)[key as keyof typeof still]).toBeCloseTo(value, 12)
})
