import { expect, test } from 'vitest'
import { shadedLuminances } from '../../../../core/checks/legibility/shaded.ts'
import { heldViews } from '../../../../core/checks/legibility/usual.ts'
import type { Spot } from '../../../../core/checks/legibility/view.ts'
import { sweepSites } from '../../../../core/checks/sweep/sweep-sites.ts'
import { usualGrid } from '../../../../core/checks/sweep/view-grid.ts'
import { groove, label, pixels, sideMm } from './fixture.ts'

/** Columns of foil, inked foil, half-covered foil and full white. */
const stacks = [
  { gratings: [groove] },
  { gratings: [groove], cmyk: [0.6, 0, 0.2, 0.3] as const },
  { gratings: [groove], whites: [0.5] },
  { gratings: [groove], whites: [1], cmyk: [0, 0, 0, 1] as const },
]

test('light of spots is that of the sweep, which is the exact picture, in every view under three lamps', async () => {
  const input = label([], x => stacks[Math.min(3, Math.floor((4 * x) / sideMm))]!)
  const { scene, map, sets } = input
  const grid = {
    ...usualGrid(scene),
    tilts: { fromDeg: -75, count: 11, stepDeg: 15 },
    turns: { fromDeg: 0, count: 8, stepDeg: 45 },
  }
  const views = heldViews(scene, grid)
  const places = stacks.map((_, i) => {
    const [column, row] = [Math.floor(((i + 0.5) / 4) * pixels), 97]
    const perPixel = sideMm / pixels
    return { column, row, xMm: (column + 0.5) * perPixel, yMm: sideMm - (row + 0.5) * perPixel }
  })
  const spots = places.map(({ column, row, xMm, yMm }): Spot => {
    const byte = (name: string) => map.planes.get(name)!.data[row * pixels + column]! / 255
    const plates = {
      metal: byte('metal'),
      varnish: 0,
      inks: ['C', 'M', 'Y', 'K'].map(byte),
      spots: [],
      whites: [byte('white 0')],
    }
    return { column, row, xMm, yMm, weight: 1, plates }
  })
  const found = await shadedLuminances(scene, map, sets)(spots, views)
  const swept = sweepSites({ scene, map, sets, places, grid, over: 'view', components: 1 })
  expect(found.length).toBe(4 * views.length)
  expect(found.some(Y => Y > 10)).toBe(true)
  const worst = found.reduce((most, Y, i) => {
    const wanted = swept.light[i]!
    return Math.max(most, Number.isNaN(wanted) !== Number.isNaN(Y) ? 1 : Math.abs(Y - wanted) / (wanted || 1))
  }, 0)
  // Both are kept as 32-bit numbers, and add lamps and room in another order.
  expect(worst).toBeLessThan(1e-6)
})
