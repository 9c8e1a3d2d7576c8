import { expect, test } from 'vitest'
import type { Layer } from '../../../../core/art/layer.ts'
import { areaOf } from '../../../../core/base/polygons.ts'
import type { CheckInput } from '../../../../core/checks/input.ts'
import { type RegionInput, regionsOf } from '../../../../core/checks/register/regions.ts'
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
const outline: Layer['vectorMask'] = {
  paths: [disc(10.03, 9.97, radius)],
  inverted: false,
  disabled: false,
  startsFull: false,
  density: 1,
  feather: 0,
  raster: null,
}

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
