import { expect, test } from 'vitest'
import { drawnArt } from '../../../../core/art/drawn/art.ts'
import { artTile } from '../../../../core/checks/codes/art-tile.ts'
import { assignRoles } from '../../../../core/roles/assign.ts'
import { filled, inkPage, pageLayer, processInks } from '../../../support/drawn-page.ts'
import { paintMap } from '../../../support/paint-map.ts'

/** Bars of a page, mm; between pixels of 150 ppi. */
const bars = [
  [2.03, 2.36],
  [2.69, 3.02],
  [3.35, 4.34],
] as const

test('bars of a page are drawn anew as finely as they are judged', async () => {
  const page = inkPage({
    inks: processInks,
    layers: [pageLayer('Code')],
    marks: bars.map(([left, right]) => filled([left, 2, right, 8], { 3: 1 }, { layer: 0 })),
  })
  const file = drawnArt(page, {
    ...{ name: 'code.pdf', format: 'PDF', mode: 'CMYK', number: 1, count: 1, readAs: 'inks' },
    ppi: 150,
  })
  const { width } = file.art
  const plan = {
    size: width,
    sideMm: (width * 25.4) / 150,
    gratings: 0,
    whites: [],
    spots: [],
    varnish: false,
  }
  const map = paintMap(plan, () => ({}))
  const assigned = assignRoles(file.art, { aliases: [], choices: [] })
  const box = { leftMm: 1, rightMm: 6, bottomMm: 4, topMm: 6 }
  const tile = await artTile({ file, assigned, map }, box)
  expect(tile.from).toBe('outlines')
  expect(tile.ppi).toBeGreaterThanOrEqual(1200)
  // Ink along a row in the middle sums to the widths of the bars, and edges are where they were drawn.
  const row = Math.floor(tile.height / 2) * tile.width
  const black = (x: number) => tile.inks[4 * (row + x) + 3]! / 255
  for (const [left, right] of bars) {
    const column = (mm: number) => (mm - tile.leftMm) * tile.pixelsPerMm
    let width = 0
    for (let x = Math.floor(column(left)) - 2; x < column(right) + 2; x++) width += black(x)
    expect(Math.abs(width / tile.pixelsPerMm - (right - left))).toBeLessThan(0.001)
    expect(black(Math.floor(column(left)) - 1)).toBe(0)
    expect(black(Math.ceil(column(left)))).toBe(1)
  }
})
