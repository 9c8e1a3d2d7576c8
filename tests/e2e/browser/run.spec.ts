import type { Page } from '@playwright/test'
import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { middle, ready, smallArt, steady } from '../../support/table.ts'

const keys = (page: Page) => page.locator('.run .key')
const held = async (page: Page) => page.locator('.pose').textContent()

test('keys of a light run are set by pointer and by keyboard, each step back again', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await expect(keys(page)).toHaveCount(5)

  // By pointer: a press twice on the line makes a key, a drag moves it.
  const line = await page.locator('.scrub').boundingBox()
  if (line === null) throw new Error('no track')
  await page.mouse.dblclick(line.x + line.width * 0.12, line.y + line.height / 2)
  await expect(keys(page)).toHaveCount(6)
  const card = page.getByRole('region', { name: 'Key 2' })
  const before = Number(await card.getByLabel('At', { exact: true }).inputValue())
  const own = await keys(page).nth(1).boundingBox()
  if (own === null) throw new Error('no key')
  await page.mouse.move(own.x + own.width / 2, own.y + own.height / 2)
  await page.mouse.down()
  await page.mouse.move(own.x + own.width / 2 + line.width * 0.05, own.y + own.height / 2, { steps: 4 })
  await page.mouse.up()
  const moved = Number(
    await page.getByRole('region', { name: 'Key 2' }).getByLabel('At', { exact: true }).inputValue(),
  )
  expect(moved).toBeGreaterThan(before + 0.3)

  // By keyboard: later by a tenth, once more as a copy, out again.
  await keys(page).nth(1).focus()
  await page.keyboard.press('ArrowRight')
  await expect(card.getByLabel('At', { exact: true })).toHaveValue((moved + 0.1).toFixed(2))
  await keys(page).nth(1).focus()
  await page.keyboard.press('c')
  await expect(keys(page)).toHaveCount(7)
  await keys(page).nth(2).focus()
  await page.keyboard.press('Delete')
  await expect(keys(page)).toHaveCount(6)

  // How it is passed, in words; and the eye, which this key alone names.
  await page.getByLabel('How the run passes it').selectOption('Comes to rest')
  await page.getByLabel('What stands where').selectOption('Eye')
  await page.getByLabel('This key says where the eye is').check()
  await page.getByLabel('To the right').fill('30')
  await page.getByLabel('To the right').press('Enter')
  await page.keyboard.press('Escape')
  await expect(page.locator('.key-card')).toHaveCount(0)

  for (let i = 0; i < 20 && (await page.getByRole('button', { name: 'Undo' }).isEnabled()); i++)
    await page.getByRole('button', { name: 'Undo' }).click()
  await expect(keys(page)).toHaveCount(5)
})

test('a run to begin with is added, stretched, and its flashes are counted', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.locator('.run .more summary').click()
  await page.getByRole('button', { name: 'Torch' }).click()
  await expect(page.locator('.run-top select option:checked')).toHaveText('Torch')
  await expect(page.getByRole('button', { name: 'Torch' })).toBeHidden()
  await page.locator('.run .more summary').click()
  await page.getByLabel('Duration').fill('6')
  await page.getByLabel('Duration').press('Enter')
  await page.keyboard.press('Escape')
  await expect(page.locator('.time')).toHaveText('0.0 of 6.0 s')
  await page.getByRole('button', { name: 'Count its flashes' }).click()
  await expect(page.locator('.flash-line')).toContainText('Flashes: within bounds', { timeout: 120_000 })
})

test('under reduced motion a run moves only after one question', async ({ open }) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.emulateMedia({ reducedMotion: 'reduce' })
  await expect(page.getByRole('button', { name: 'Play' })).toHaveCount(0)
  await page.getByRole('button', { name: 'Let them move…' }).click()
  await expect(page.getByText('Your system asks for less motion')).toBeVisible()
  await page.getByRole('button', { name: 'Keep still' }).click()
  await expect(page.getByRole('button', { name: 'Play' })).toHaveCount(0)
  await page.getByRole('button', { name: 'Let them move…' }).click()
  await page.getByRole('button', { name: 'Let them move', exact: true }).click()
  await page.getByRole('button', { name: 'Play' }).click()
  await expect(page.locator('.pose')).toHaveText(/^Tilt \d/)
})

test('a spot looked at closer: its light by angle, its brightest tilt, its pixels, a pin that is saved', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await steady(page)
  await page.mouse.click(...(await middle(page)))
  const spot = page.getByLabel('Spot', { exact: true })
  await expect(spot).toContainText('same ink on white, ΔE00')
  await spot.getByRole('button', { name: 'Look closer' }).click()
  await expect(spot.getByRole('img', { name: /^From the eye down: .*metal 100 %; board$/ })).toBeVisible()

  // The plot is a slider over the panel's tilt.
  const plot = spot.getByRole('slider', { name: 'Tilt of the panel' })
  await expect(plot).toHaveAttribute('aria-valuetext', /white|dark/)
  await plot.focus()
  await page.keyboard.press('ArrowRight')
  await expect(page.locator('.pose')).toHaveText('Tilt 1°')

  const brightest = spot.getByRole('button', { name: 'Hold it at its brightest' })
  await brightest.click({ timeout: 60_000 })
  // The lamp stands 30° from straight-on, so that its mirror is at half of that.
  await expect.poll(() => held(page)).toMatch(/^Tilt 1[45]°$/)
  await spot.getByRole('button', { name: 'Hold it at its darkest' }).click()
  await expect.poll(() => held(page)).not.toMatch(/^Tilt 1[45]°$/)

  await expect(spot.locator('.polar path[style]')).toHaveCount(20 * 72, { timeout: 60_000 })
  const x = spot.getByLabel('x, mm')
  const before = await x.inputValue()
  await spot.getByRole('application', { name: /Pixels around the spot/ }).focus()
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowRight')
  await expect(x).not.toHaveValue(before)

  await spot.getByRole('button', { name: 'Keep as a pin' }).click()
  await spot.getByLabel('Name of Spot 1').fill('Lens ring')
  await spot.getByLabel('Name of Spot 1').press('Enter')
  await expect(page.locator('.what')).toContainText('Changes not saved')
  await x.fill('2')
  await x.press('Enter')
  await spot.getByRole('button', { name: 'Go to Lens ring' }).click()
  await expect(x).not.toHaveValue('2.0')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(spot.getByLabel('Name of Spot 1')).toBeVisible()
})
