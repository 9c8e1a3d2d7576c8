import { writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import type { BuiltMap } from '../../../core/host/art.ts'
import type { Reply } from '../../../core/host/reply.ts'
import { decodeWire } from '../../../core/host/wire.ts'
import { test } from '../../support/served.ts'
import { drawing, middle, ready, type Shot, smallArt, steady } from '../../support/table.ts'

test('an area is drawn, gets another effect, is turned by its arrow, and is gone after undo', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await drawing(page, 'Rectangle')
  const table = await page.locator('.table').boundingBox()
  const [x, y] = [table!.x + table!.width / 2, table!.y + table!.height / 2]
  await page.mouse.move(x - 40, y - 40)
  await page.mouse.down()
  await page.mouse.move(x + 40, y + 40, { steps: 4 })
  await page.mouse.up()
  const card = page.getByLabel('Drawn areas')
  await expect(card.getByRole('button', { name: 'Area 1' })).toBeVisible()
  await ready(page)

  // Its arrow stands up; dragged to the right of its middle it points right.
  const arrow = page.getByRole('slider', { name: 'Direction of the effect' })
  await expect(arrow).toHaveAttribute('aria-valuetext', '90° carton, 90° sheet')
  await arrow.focus()
  await page.keyboard.press('Shift+ArrowLeft')
  await expect(arrow).toHaveAttribute('aria-valuetext', '105° carton, 105° sheet')

  await card.getByRole('button', { name: /^Effect: Plain rainbow/ }).click()
  await card.getByRole('radio', { name: 'Facets', exact: true }).check({ force: true })
  await expect(arrow).toHaveCount(0)
  await ready(page)

  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo' }).click()
  await expect(card.getByRole('button', { name: 'Area 1' })).toHaveCount(0)
  expect(errors).toEqual([])
})

test('an area drawn in one design is not in another until it is wanted there', async ({ open }) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await page.getByRole('button', { name: 'Try another design' }).click()
  const areas = page.getByLabel('Drawn areas')
  await page.getByRole('button', { name: 'Put one in the middle' }).click()
  await expect(areas.getByLabel('In this design')).toBeChecked()
  await page.getByRole('button', { name: 'Base', exact: true }).click()
  await expect(areas.getByText('not in this design')).toBeVisible()
  await expect(areas.getByRole('button', { name: /^Effect: / })).toHaveCount(0)
  await areas.getByLabel('In this design').check()
  await expect(areas.getByRole('button', { name: /^Effect: Plain rainbow/ })).toBeVisible()
  await areas.getByRole('button', { name: 'Delete it in all designs' }).click()
  await expect(areas.getByRole('button', { name: 'Area 1' })).toHaveCount(0)
  expect(errors).toEqual([])
})

test('an effect edited by its field changes its own rectangle of the picture and nothing else, and undo brings it back', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await drawing(page, 'Rectangle')
  const [x, y] = await middle(page)
  const half = 40
  await page.mouse.move(x - half, y - half)
  await page.mouse.down()
  await page.mouse.move(x + half, y + half, { steps: 4 })
  await page.mouse.up()
  const card = page.getByLabel('Drawn areas')
  const pitch = card.getByLabel('Pitch', { exact: true })
  await expect(pitch).toBeVisible()
  await ready(page)
  const before = await steady(page)

  const answered = page.waitForResponse(response => response.url().endsWith('/request/buildMap'))
  const usual = await pitch.inputValue()
  await pitch.fill('1460')
  await pitch.press('Enter')
  const reply = decodeWire(new Uint8Array(await (await answered).body())) as Reply<BuiltMap>
  if (!reply.ok || reply.value.shown.kind !== 'change') throw new Error('expected a change of the map')
  const [finest] = reply.value.shown.change.levels
  // Depth and share stay: what comes are vectors, at the soft edge those of both areas, and only under the rectangle.
  expect(finest?.has('kappa1')).toBe(true)
  for (const [name, { tiles }] of finest ?? []) {
    expect(name).toMatch(/^kappa\d$/)
    expect(tiles.length).toBeLessThanOrEqual(9)
  }
  await ready(page)
  const after = await steady(page)
  const canvas = await page.locator('.picture canvas').boundingBox()
  const [left, top] = [x - half - canvas!.x, y - half - canvas!.y]
  const inside = (column: number, row: number, margin: number) =>
    column > left - margin &&
    column < left + 2 * half + margin &&
    row > top - margin &&
    row < top + 2 * half + margin
  // On the panel: what lies beside it is the window's.
  const onPanel = (column: number, row: number) =>
    Math.abs(column - left - half) < 150 && Math.abs(row - top - half) < 220
  const differing = (other: Shot) => {
    const found = { within: 0, around: 0 }
    for (let row = 0; row < other.height; row++)
      for (let column = 0; column < other.width; column++) {
        const at = (row * other.width + column) * other.channels
        const differs = [0, 1, 2].some(c => Math.abs(before.data[at + c]! - other.data[at + c]!) > 2)
        if (!differs || !onPanel(column, row)) continue
        if (inside(column, row, 0)) found.within++
        else if (!inside(column, row, 10)) found.around++
      }
    return found
  }
  const edited = differing(after)
  expect(edited.within).toBeGreaterThan(half * half)
  expect(edited.around).toBe(0)

  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(pitch).toHaveValue(usual)
  await ready(page)
  expect(differing(await steady(page)).within).toBe(0)
  expect(errors).toEqual([])
})

test('an outline comes from an SVG drawing in its own millimetres', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const file = join(tmpdir(), `lens-${process.pid}.svg`)
  writeFileSync(
    file,
    '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><path d="M2 2h6v4h-6z" fill="none" stroke="#000"/></svg>',
  )
  const chooser = page.waitForEvent('filechooser')
  await page.getByRole('button', { name: 'From an SVG…' }).click()
  await (await chooser).setFiles(file)
  const card = page.getByLabel('Drawn areas')
  await expect(card.getByLabel('Width')).toHaveValue('6.0')
  await expect(card.getByLabel('Height')).toHaveValue('4.0')
  // 20 mm high, and the shape ends 6 mm from the top.
  await expect(card.getByLabel('Lower edge')).toHaveValue('14.0')
})
