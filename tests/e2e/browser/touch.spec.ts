import { type CDPSession, expect, type Page } from '@playwright/test'
import { test } from '../../support/served.ts'
import { middle, ready, smallArt } from '../../support/table.ts'

/** A screen that is worked by fingers: nothing of it needs a pointer that hovers. */

test.use({ hasTouch: true })

type Place = readonly [x: number, y: number]

/** Fingers that are put down, moved and lifted together. */
async function fingers(page: Page): Promise<(...ways: readonly (readonly Place[])[]) => Promise<void>> {
  const session: CDPSession = await page.context().newCDPSession(page)
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', places: readonly Place[]) =>
    session.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: places.map(([x, y], id) => ({ x, y, id })),
    })
  return async (...ways) => {
    const steps = Math.max(...ways.map(way => way.length))
    const at = (step: number) => ways.map(way => way[Math.min(step, way.length - 1)] as Place)
    await send('touchStart', at(0))
    for (let step = 1; step < steps; step++) await send('touchMove', at(step))
    await send('touchEnd', [])
  }
}

const centre = async (page: Page, selector: string): Promise<Place> => {
  const box = await page.locator(selector).first().boundingBox()
  if (box === null) throw new Error(`no ${selector}`)
  return [box.x + box.width / 2, box.y + box.height / 2]
}

test('one finger tilts and reads a spot, the lamp is drawn by its ring and on its dome', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const touch = await fingers(page)
  const [x, y] = await middle(page)
  await touch([
    [x, y + 60],
    [x + 20, y + 40],
    [x + 40, y],
  ])
  await expect(page.locator('.pose')).toHaveText(/^Tilt 1\d°$/)
  await page.touchscreen.tap(x, y)
  await expect(page.getByLabel('Spot', { exact: true })).toContainText('Seen now')
  await page.getByRole('button', { name: 'Let go' }).tap()

  const elevation = page.getByLabel('Elevation')
  const before = await elevation.inputValue()
  const [lx, ly] = await centre(page, '[data-testid="lamp-handle"]')
  await touch([
    [lx, ly],
    [lx, ly - 20],
    [lx, ly - 50],
  ])
  await expect(elevation).not.toHaveValue(before)
  const drawn = await elevation.inputValue()
  const [px, py] = await centre(page, '.pad')
  await touch([
    [px, py - 10],
    [px + 4, py - 10],
    [px + 20, py - 5],
  ])
  await expect(elevation).not.toHaveValue(drawn)
  expect(await page.evaluate(() => visualViewport?.scale), 'the page itself is not enlarged').toBe(1)
})

test('two fingers that go the same way take the view along, once it is close', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const touch = await fingers(page)
  const [x, y] = await middle(page)
  await touch(
    [
      [x - 40, y],
      [x - 100, y],
      [x - 160, y],
    ],
    [
      [x + 40, y],
      [x + 100, y],
      [x + 160, y],
    ],
  )
  await expect(page.locator('.pose')).toHaveText(/ · (39|40|41)\d %/)
  const spotAtMiddle = async () => {
    await page.touchscreen.tap(x, y)
    const at = await page.getByLabel('x, mm').inputValue()
    await page.getByRole('button', { name: 'Let go' }).tap()
    return Number(at)
  }
  const before = await spotAtMiddle()
  await touch(
    [
      [x - 60, y],
      [x - 20, y],
      [x + 60, y],
    ],
    [
      [x + 60, y],
      [x + 100, y],
      [x + 180, y],
    ],
  )
  // The art went to the right under the fingers, so that what lay further left is in the middle now.
  expect(await spotAtMiddle()).toBeLessThan(before - 1)
})

test('an area is drawn, closed and left by fingers; sliders follow them', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  const touch = await fingers(page)
  await page.getByRole('button', { name: 'Polygon' }).tap()
  await expect(page.locator('.draw-over.drawing')).toBeVisible()
  const [x, y] = await middle(page)
  for (const place of [
    [x - 40, y + 40],
    [x + 40, y + 40],
    [x, y - 40],
  ] as const)
    await page.touchscreen.tap(...place)
  await page.getByRole('button', { name: 'Close it' }).tap()
  await expect(page.getByLabel('Drawn areas').getByRole('button', { name: 'Area 1' })).toBeVisible()
  await page.getByRole('button', { name: 'Rectangle' }).tap()
  await expect(page.locator('.draw-over.drawing')).toBeVisible()
  await page.getByRole('button', { name: 'Stop drawing' }).tap()
  await expect(page.getByRole('button', { name: 'Stop drawing' })).toHaveCount(0)

  const slider = await page.getByRole('slider', { name: 'Exposure' }).boundingBox()
  if (slider === null) throw new Error('no slider')
  const [from, at] = [slider.x + slider.width / 2, slider.y + slider.height / 2]
  await touch([
    [from, at],
    [from + 30, at],
    [from + 60, at],
  ])
  await expect
    .poll(async () => Number(await page.getByRole('slider', { name: 'Exposure' }).inputValue()))
    .toBeGreaterThan(0.5)
})
