import { expect, test } from 'vitest'
import { drawnArt } from '../../../../core/art/drawn/art.ts'
import type { Layer } from '../../../../core/art/layer.ts'
import { plainMask } from '../../../../core/art/plain-layer.ts'
import { areaOf } from '../../../../core/base/polygons.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { type RegionInput, regionsOf } from '../../../../core/checks/register/regions.ts'
import { assignRoles } from '../../../../core/roles/assign.ts'
import { filled, inkPage, pageLayer, processInks, spotOf } from '../../../support/drawn-page.ts'
import { paintedFile } from '../../painted.ts'

/** A disc as four cubic pieces, 3 in 10 000 of the radius off at most. */
function disc(x: number, y: number, r: number): NonNullable<Layer['vectorMask']>['paths'][number] {
  const k = 0.5522847498 * r
  const knot = (ux: number, uy: number) => ({
    in: [x + r * ux + k * uy, y + r * uy - k * ux] as const,
    at: [x + r * ux, y + r * uy] as const,
    out: [x + r * ux - k * uy, y + r * uy + k * ux] as const,
  })
  return {
    closed: true,
    continues: false,
    combine: 'unite',
    knots: [knot(1, 0), knot(0, 1), knot(-1, 0), knot(0, -1)],
  }
}

const radius = 0.31
const outline = plainMask([disc(10.03, 9.97, radius)])

/** A small disc of holography in art of 300 ppi, drawn as an outline and as the pixels that come of it. */
function input(change: Partial<Layer>): RegionInput {
  const side = 236
  const mm = (side / 300) * 25.4
  const perMm = 300 / 25.4
  const file = paintedFile({
    width: side,
    height: side,
    layers: [
      {
        name: 'Comet',
        kind: 'shape',
        vectorMask: outline,
        paint: (x, y) => {
          const inside = Math.hypot((x + 0.5) / perMm - 10.03, mm - (y + 0.5) / perMm - 9.97) < radius
          return [0, 0, 0, 0, inside ? 1 : 0]
        },
        ...change,
      },
    ],
  })
  return {
    art: file.art,
    file,
    assigned: [
      {
        target: { kind: 'layer', id: 'Comet' },
        role: 'holography',
        reason: '',
        by: 'rule',
        amount: { from: 'alpha' },
        askAmount: false,
        amountReason: '',
      },
    ],
    map: { widthMm: mm, heightMm: mm, areas: [], whites: [] } as unknown as CheckInput['map'],
    blank: null,
    corners: new Map(),
  }
}

const farthestOff = async (change: Partial<Layer>): Promise<number> => {
  const rings = (await regionsOf(input(change))).get('holography')!
  const offs = rings.flat().map(([x, y]) => Math.abs(Math.hypot(x - 10.03, y - 9.97) - radius))
  return Math.max(...offs)
}

test('the edge of a shape runs along its outline, finer than the pixels of the art', async () => {
  // A pixel of the art is 0.085 mm, of 1200 ppi 0.021 mm; an edge is found to a tenth of one.
  expect(await farthestOff({})).toBeLessThan(0.004)
  const rings = (await regionsOf(input({}))).get('holography')!
  expect(Math.abs(areaOf(rings) / (Math.PI * radius ** 2) - 1)).toBeLessThan(0.01)
})

test('a shape that its outline alone does not end is read from its pixels', async () => {
  expect(await farthestOff({ vectorMask: { ...outline!, disabled: true } })).toBeGreaterThan(0.01)
  expect(await farthestOff({ kind: 'pixel', vectorMask: null })).toBeGreaterThan(0.01)
})

test('shapes of a page are followed as they are drawn, finer than the pixels it is read at', async () => {
  const how = { name: 'comet.pdf', format: 'PDF', mode: 'CMYK', number: 1, count: 1, readAs: 'inks' } as const
  const page = inkPage({
    inks: [...processInks, spotOf('Foil')],
    layers: [pageLayer('Hologram', { step: { group: 'Positions', type: 'Hologram' } })],
    marks: [filled([3.013, 4.027, 5.491, 6.032], { 4: 1 }, { layer: 0, overprint: true })],
  })
  const file = drawnArt(page, { ...how, ppi: 150 })
  // The panel of a new job is as large as the art’s pixels.
  const [widthMm, heightMm] = [file.art.width, file.art.height].map(side => (side * 25.4) / 150)
  const assigned = assignRoles(file.art, { aliases: [], choices: [] })
  const map = { widthMm, heightMm, areas: [], whites: [] } as unknown as CheckInput['map']
  const rings = (
    await regionsOf({ art: file.art, file, assigned, map, blank: null, corners: new Map() })
  ).get('holography')!
  const [xs, ys] = [rings.flat().map(([x]) => x), rings.flat().map(([, y]) => y)]
  // A pixel of the art is 0.17 mm, of 1200 ppi 0.021 mm; an edge is found to a tenth of one.
  for (const [found, drawn] of [
    [Math.min(...xs), 3.013],
    [Math.max(...xs), 5.491],
    [Math.min(...ys), 4.027],
    [Math.max(...ys), 6.032],
  ] as const)
    expect(Math.abs(found - drawn)).toBeLessThan(0.004)
})
