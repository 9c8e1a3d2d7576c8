import { fileURLToPath } from 'node:url'
import { expect, type Page } from '@playwright/test'
import { encode } from 'fast-png'
import { test } from '../../support/served.ts'
import { ready, smallArt } from '../../support/table.ts'

const eyepiece = fileURLToPath(new URL('../../../demo-assets/eyepiece.glb', import.meta.url))

/** Opens the holography card of the small carton and chooses an effect. */
async function choose(page: Page, effect: string) {
  await ready(page)
  await page.locator('.card-head', { hasText: 'Holography lines' }).click()
  await page.getByRole('button', { name: /^Effect: / }).click()
  // The label lies over its radio button.
  await page.getByRole('radio', { name: effect, exact: true }).check({ force: true })
  await page.getByRole('button', { name: `Effect: ${effect}. Close` }).click()
  return page.getByLabel('Holography effect')
}

/** Part of a canvas that is not black. */
const lit = (page: Page, selector: string) =>
  page.locator(selector).evaluate((canvas: HTMLCanvasElement) => {
    const { width, height } = canvas
    const data = canvas.getContext('2d')?.getImageData(0, 0, width, height).data ?? []
    let bright = 0
    for (let i = 0; i < data.length; i += 4) if ((data[i] ?? 0) > 60) bright++
    return bright / (width * height)
  })

test('layers are put at depths, drawn from the side and moved past each other', async ({ open }) => {
  const { page, errors } = await open(smallArt().path)
  const card = await choose(page, 'Layered depth')
  await expect(card.getByRole('img', { name: 'Side view: plane 1 3 mm in front' })).toBeVisible()
  await card.getByLabel('Add a plane').selectOption({ label: 'Disc' })
  await expect(
    card.getByRole('img', { name: 'Side view: plane 1 3 mm in front, plane 2 on the carton' }),
  ).toBeVisible()
  await card.getByLabel('In front, plane 2', { exact: true }).fill('-12')
  await card.getByLabel('In front, plane 2', { exact: true }).press('Enter')
  await expect(card.getByText('12 mm behind')).toBeVisible()
  const slider = card.getByRole('slider', { name: 'Seen from' })
  await expect(slider).toHaveAttribute('aria-valuetext', 'straight on, view 4')
  await slider.press('ArrowLeft')
  await expect(slider).toHaveAttribute('aria-valuetext', /^7° from the left, view 3$/)
  await card.getByRole('button', { name: 'Remove plane 2' }).click()
  await expect(card.getByText('12 mm behind')).toHaveCount(0)
  await ready(page)
  expect(errors).toEqual([])
})

test('a model is chosen, shown from its views, and turned further', async ({ open }) => {
  const { page, errors } = await open(smallArt().path)
  const card = await choose(page, 'Object from views')
  const picking = page.waitForEvent('filechooser')
  await card.getByRole('button', { name: 'A model…' }).click()
  await (await picking).setFiles(eyepiece)
  await expect(card.getByText('eyepiece.glb')).toBeVisible()
  await expect(card.getByRole('img', { name: '9 views, from the left to the right' })).toBeVisible({
    timeout: 60_000,
  })
  expect(await lit(page, '.view-strip')).toBeGreaterThan(0.2)
  await card.getByLabel('Views', { exact: true }).fill('5')
  await card.getByLabel('Views', { exact: true }).press('Enter')
  await expect(card.getByRole('img', { name: '5 views, from the left to the right' })).toBeVisible({
    timeout: 60_000,
  })
  await ready(page)
  expect(errors).toEqual([])
})

test('numbered pictures that do not fit are refused by name, and nothing changes', async ({ open }) => {
  const { page } = await open(smallArt().path)
  const card = await choose(page, 'Object from views')
  const picture = Buffer.from(
    encode({ width: 4, height: 4, channels: 1, depth: 8, data: new Uint8Array(16) }),
  )
  const picking = page.waitForEvent('filechooser')
  await card.getByRole('button', { name: 'Numbered pictures…' }).click()
  await (await picking).setFiles([
    { name: 'comet.png', mimeType: 'image/png', buffer: picture },
    { name: 'comet-2.png', mimeType: 'image/png', buffer: picture },
  ])
  await expect(page.getByText(/comet\.png.*no number in its name/)).toBeVisible()
  await expect(card.getByText('No files chosen yet.')).toBeVisible()
})
