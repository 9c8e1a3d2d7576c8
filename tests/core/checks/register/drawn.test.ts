import { expect, test } from 'vitest'
import { drawnArt } from '../../../../core/art/drawn/art.ts'
import type { InkField, Mark } from '../../../../core/art/ink/mark.ts'
import { boxPath } from '../../../../core/art/ink/path.ts'
import { type InkPlanes, paintPage } from '../../../../core/art/ink/raster.ts'
import { areaOf, without } from '../../../../core/base/polygons.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { asDrawn } from '../../../../core/checks/register/groups.ts'
import { regionsOf } from '../../../../core/checks/register/regions.ts'
import { sliversOf } from '../../../../core/checks/register/slivers.ts'
import { assignRoles } from '../../../../core/roles/assign.ts'
import {
  drawnLine,
  filled,
  grouped,
  inkPage,
  pageLayer,
  processInks,
  spotOf,
} from '../../../support/drawn-page.ts'

/** Of a page, mm: 142 pixels of 300 ppi. */
const side = (142 * 25.4) / 300
const how = { name: 'chart.pdf', format: 'PDF', mode: 'CMYK', number: 1, count: 1, readAs: 'inks' } as const

const pageOf = (marks: readonly Mark[]) =>
  inkPage({
    widthMm: side,
    heightMm: side,
    inks: [...processInks, spotOf('White')],
    layers: [pageLayer('White'), pageLayer('Art')],
    marks,
  })

async function regionsIn(marks: readonly Mark[]) {
  const file = drawnArt(pageOf(marks), { ...how, ppi: 300 })
  const assigned = assignRoles(file.art, { aliases: [], choices: [] })
  const map = { widthMm: side, heightMm: side, areas: [], whites: [] } as unknown as CheckInput['map']
  return regionsOf({ art: file.art, file, assigned, map, blank: null, corners: new Map() })
}

/** Planes of the page at 4800 ppi: 16 pixels for one of the art. */
const times = 16
const brute = (marks: readonly Mark[]) =>
  paintPage(pageOf(marks), { widthPx: 142 * times, heightPx: 142 * times })
const pixelMm = 25.4 / (300 * times)

const white = { layer: 0, overprint: true } as const
const art = { layer: 1, overprint: true } as const
const line = [
  [1.1, 2.3],
  [5.2, 10.4],
  [10.3, 4.7],
] as const
const box = [1.03, 1.07, 10.81, 3.41] as const

/** Thin lines, a cut circle of light in a block, a bar left open, and a tint that is too light to count. */
const chart: readonly Mark[] = [
  filled(box, { 4: 1 }, white),
  drawnLine(line, 0.11, { 4: 1 }, white),
  filled(box, { 0: 0.6, 3: 1 }, art),
  drawnLine(line, 0.11, { 1: 0.5 }, art),
  filled([0.1, 4.5, 0.4, 11.1], { 2: 0.07 }, art),
  // Bare: it knocks out white and inks.
  filled([2.31, 0.5, 2.36, 5], {}, { layer: 1 }),
  filled(
    [4, 1.5, 7, 2.5],
    {},
    { layer: 1, clip: { path: boxPath([4.4, 0, 6.13, 9]), rule: 'nonzero', within: null } },
  ),
]

/** Shifts, pixels right and down: whole ones, so that shifted pictures are exact. */
const shifts = [
  [11, -7],
  [40, 23],
] as const

/** Mm² of colour without white and of white without colour, once the white was shifted, counted on pictures. */
function counted({ inks, width, rows }: InkPlanes, dx: number, dy: number) {
  const counts = { foil: 0, white: 0 }
  for (let y = 0; y < rows; y++)
    for (let x = 0; x < width; x++) {
      // Half of what the block and the line are drawn in.
      const colour = inks[3]![y * width + x]! >= 128 || inks[1]![y * width + x]! >= 64
      const [u, v] = [x - dx, y - dy]
      const under = u >= 0 && u < width && v >= 0 && v < rows && inks[4]![v * width + u]! >= 128
      if (colour && !under) counts.foil++
      if (under && !colour) counts.white++
    }
  return { foil: counts.foil * pixelMm ** 2, white: counts.white * pixelMm ** 2 }
}

test('what process inks of a page show as white slips is within 1 % of shifted pictures of 4800 ppi', async () => {
  const regions = await regionsIn(chart)
  const [colour, white] = [regions.get('colour')!, regions.get('white')!]
  const planes = brute(chart)
  for (const [dx, dy] of shifts) {
    const slipped = white.map(ring => ring.map(([x, y]) => [x + dx * pixelMm, y - dy * pixelMm] as const))
    const counts = counted(planes, dx, dy)
    expect(Math.abs(areaOf(without(colour, slipped)) / counts.foil - 1)).toBeLessThan(0.01)
    expect(Math.abs(areaOf(without(slipped, colour)) / counts.white - 1)).toBeLessThan(0.01)
  }
}, 60_000)

test('so are its slivers, where inks and white were drawn as one', async () => {
  const block = [filled(box, { 4: 1 }, white), filled(box, { 0: 0.6, 3: 1 }, art)]
  const regions = await regionsIn(block)
  const planes = brute(block)
  for (const [dx, dy] of shifts) {
    const motion = { ...asDrawn, dxMm: dx * pixelMm, dyMm: -dy * pixelMm }
    const found = sliversOf(regions, ['colour', 'white'], { white: motion }, [side / 2, side / 2])
    const counts = counted(planes, dx, dy)
    for (const halo of ['foil', 'white'] as const)
      expect(Math.abs(found.find(one => one.halo === halo)!.areaMm2 / counts[halo] - 1)).toBeLessThan(0.01)
  }
}, 60_000)

/** A picture: dark to the left, then fading. */
const fading: InkField = {
  inks: [0, 1, 2, 3],
  row: (x, _y, step, count, out, shape) => {
    for (let i = 0; i < count; i++) {
      const at = x + i * step
      for (const plane of out) plane[i] = at < 6 ? 0.9 : Math.max(0, 0.9 - 0.3 * (at - 6))
      shape[i] = 1
    }
  },
}
const picture = filled([1, 1, 11, 11], {}, { layer: 1, paint: { kind: 'field', field: fading } })

test('what is drawn over a picture ends where it was drawn, and the picture where its pixels say', async () => {
  const marks = [
    // It lies under the picture, which covers it.
    filled([3, 3, 4, 4], {}, { layer: 1 }),
    picture,
    // A hairline left open, a seal over the light end, in a group that is as its marks are.
    filled([2.013, 1.5, 2.063, 9.5], {}, { layer: 1 }),
    grouped([filled([9.7, 5.02, 11.5, 6.91], { 3: 1 }, { layer: 1 })], { isolated: false }),
  ]
  const colour = (await regionsIn(marks)).get('colour')!
  const { inks } = brute(marks)
  let count = 0
  for (let i = 0; i < inks[0]!.length; i++) if ([0, 1, 2, 3].some(ink => inks[ink]![i]! >= 26)) count++
  expect(Math.abs(areaOf(colour) / (count * pixelMm ** 2) - 1)).toBeLessThan(0.006)
  // A pixel of the art is 0.085 mm; the gap is 0.05 mm wide.
  const gap = colour.find(ring => ring.every(([x]) => x > 2 && x < 2.1))!
  const xs = gap.map(([x]) => x)
  expect(Math.min(...xs)).toBeCloseTo(2.013, 3)
  expect(Math.max(...xs)).toBeCloseTo(2.063, 3)
})

test('what something transparent lies on is looked at with it', async () => {
  const marks = [
    filled([2, 2, 8, 8], { 3: 1 }, { layer: 1 }),
    // Takes nothing away, however light.
    filled([1, 1, 5, 5], { 2: 0.05 }, { layer: 1, blend: 'multiply' }),
    // Takes most of the ink away.
    filled([6, 6, 9, 9], {}, { layer: 1, alpha: 0.95 }),
  ]
  const colour = (await regionsIn(marks)).get('colour')!
  // Where it lies edges are known to half a pixel of the art.
  expect(Math.abs(areaOf(colour) - (36 - 4))).toBeLessThan(0.7)
})
