import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { changed, ready, smallArt, steady } from '../../support/table.ts'

test('a slider moves the plates in the picture, what shows is found and outlined, and undo puts them back', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt('small.psd', true).path)
  await ready(page)
  await page.mouse.move(5, 5)
  const drawn = await steady(page)
  const section = async () => {
    await page.getByRole('button', { name: 'Checks' }).click()
    await page.getByRole('radio', { name: 'Register' }).check({ force: true })
  }
  await section()
  await page.getByRole('radio', { name: 'White', exact: true }).nth(1).check({ force: true })
  const right = page.getByLabel('To the right')
  await right.focus()
  await right.press('End')
  await expect(page.getByText('2.00 mm')).toBeVisible()
  await page.getByRole('button', { name: 'Close' }).click()
  await page.mouse.move(5, 5)
  const slipped = await steady(page)
  // The bar of 30 mm over 40 mm of foil: a strip at either end.
  expect(changed(drawn, slipped)).toBeGreaterThan(0.002)

  await section()
  await page.getByRole('button', { name: 'Find what shows' }).click()
  const shows = page.getByRole('list', { name: 'What shows' })
  await expect(shows).toContainText('Inks and white: metal shows', { timeout: 90_000 })
  await expect(shows).toContainText('2.00 mm at the widest')
  await expect(page.locator('.sliver-over')).toBeVisible()
  await page.getByRole('button', { name: 'As printed well' }).click()
  await expect(page.getByText('Nothing shows that was not drawn.')).toBeVisible()
  await page.getByRole('button', { name: 'Close' }).click()
  await page.mouse.move(5, 5)
  expect(changed(drawn, await steady(page))).toBe(0)
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.mouse.move(5, 5)
  expect(changed(slipped, await steady(page))).toBe(0)
  expect(errors).toEqual([])
})

test('type that is marked is read in all views, drawn over tilt and shown where it is worst', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt('small.psd', true).path)
  await ready(page)
  await page.getByRole('button', { name: 'Checks' }).click()
  const section = (name: string) => page.getByRole('radio', { name, exact: true }).check({ force: true })
  await section('Light')
  await page.getByRole('button', { name: 'Read the type in all views' }).click()
  await expect(page.getByText('The art has no text and no outlined type.')).toBeVisible({ timeout: 90_000 })
  await section('Marks')
  await page.getByRole('button', { name: 'Put one in the middle' }).last().click()
  await section('Light')
  await page.getByRole('button', { name: 'Look again' }).click()
  const type = page.getByRole('list', { name: 'Type over all views' })
  await expect(type.getByRole('listitem')).toHaveCount(1, { timeout: 90_000 })
  await expect(type).toContainText('of all views')
  await page.getByRole('button', { name: 'Contrast over tilt' }).click()
  await page.getByText('The same in numbers').click()
  await expect(page.getByRole('row')).toHaveCount(14)
  await page.getByRole('button', { name: 'Show it at its worst' }).click()
  await expect(page.getByRole('button', { name: 'Back to where I was' })).toBeVisible()
  expect(errors).toEqual([])
})

test('a white is made from the art, looked at before and after, taken into the picture, and undone', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await page.mouse.move(5, 5)
  const drawn = await steady(page)
  await page.getByRole('button', { name: 'Checks' }).click()
  await page.getByRole('radio', { name: 'White' }).check({ force: true })
  await page.getByRole('group', { name: 'White under' }).getByLabel('Disc').check()
  await page.getByRole('button', { name: 'Show it before and after' }).click()
  await expect(page.getByRole('img', { name: 'White with what was made of the art' })).toBeVisible({
    timeout: 90_000,
  })
  // A disc of 10 mm radius choked by 0.15 mm, to the digit that is shown.
  await expect(
    page.getByText(`With the made one: ${((Math.PI * 9.85 ** 2) / 100).toFixed(1)} cm²`),
  ).toBeVisible()
  await page.getByRole('button', { name: 'Take it', exact: true }).click()
  await expect(page.getByText('The job has it')).toBeVisible()
  await expect(page.locator('.stack')).toHaveAttribute('aria-busy', 'false', { timeout: 60_000 })
  await page.getByRole('button', { name: 'Close' }).click()
  await page.mouse.move(5, 5)
  const backed = await steady(page)
  // The disc is a seventh of the panel, and the panel a third of the table.
  expect(changed(drawn, backed)).toBeGreaterThan(0.01)
  await page.locator('.stack').getByRole('button', { name: 'White made from the art' }).click()
  await expect(page.getByRole('radio', { name: 'White', exact: true })).toBeChecked()
  await page.getByRole('button', { name: 'Close' }).click()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.locator('.stack')).toHaveAttribute('aria-busy', 'false', { timeout: 60_000 })
  await page.mouse.move(5, 5)
  await expect.poll(async () => changed(drawn, await steady(page)), { timeout: 60_000 }).toBe(0)
  expect(errors).toEqual([])
})

test('flashes are drawn by lamp place and told in numbers that agree, and lamp and eye go to the brightest', async ({
  open,
}) => {
  test.setTimeout(180_000)
  const { page, errors } = await open(smallArt('small.psd', true).path)
  await ready(page)
  await page.mouse.move(5, 5)
  const drawn = await steady(page)
  await page.getByRole('button', { name: 'Checks' }).click()
  await page.getByRole('radio', { name: 'Light', exact: true }).check({ force: true })
  await page.getByRole('button', { name: 'Find the flashes of each panel' }).click()
  const polar = page.getByRole('img', { name: /^Flashes of / })
  await expect(polar).toBeVisible({ timeout: 120_000 })
  await expect(polar.locator('path')).toHaveCount(36)

  const each = page.getByRole('table', { name: /^Each panel.*times paper white$/ })
  await expect(each.getByRole('row')).toHaveCount(2)
  await expect(each.getByRole('row').last()).toContainText(/\d\s%\d+.*° round.*° up/)

  await page.getByText('The same in numbers').click()
  const lamps = page.getByRole('table', { name: /by lamp place, times paper white$/ })
  const counted = async () => {
    const light = (await lamps.getByRole('cell').allTextContents()).map(Number)
    expect(light).toHaveLength(36)
    return light.filter(one => one >= 2).length
  }
  const said = page.getByText(/flashes under \d+ of 36 lamp places/)
  await expect(said).toContainText(`flashes under ${await counted()} of 36`)
  // Fields that flash have their number in the picture, beside the names of the four sides.
  await expect(polar.locator('text')).toHaveCount((await counted()) + 4)
  const straight = await lamps.getByRole('cell').allTextContents()
  await page.getByLabel('Seen from the right').press('End')
  await expect.poll(() => lamps.getByRole('cell').allTextContents()).not.toEqual(straight)
  await expect(said).toContainText(`flashes under ${await counted()} of 36`)

  await page.getByRole('button', { name: 'Put lamp and eye there' }).click()
  await expect(page.getByText('This is of an earlier state')).toHaveCount(0)
  await page.getByRole('button', { name: 'Close' }).click()
  await page.mouse.move(5, 5)
  expect(changed(drawn, await steady(page))).toBeGreaterThan(0.05)
  expect(errors).toEqual([])
})

test('frames of the glare check are drawn, each is held on the table and leads back, and an edit takes them away', async ({
  open,
}) => {
  test.setTimeout(600_000)
  const { page, errors } = await open(smallArt('small.psd', true).path)
  await ready(page)
  await page.getByRole('button', { name: 'Checks' }).click()
  await page.getByRole('button', { name: 'Run the checks' }).click()
  await expect(page.getByRole('button', { name: 'Run again' })).toBeVisible({ timeout: 300_000 })
  await page.getByRole('radio', { name: 'Light', exact: true }).check({ force: true })
  const carton = page.getByRole('list', { name: 'Frames of the whole carton' })
  const card = (name: string) => carton.getByRole('button', { name: new RegExp(`^${name}`) })
  await expect(carton.locator('canvas')).toHaveCount(3, { timeout: 120_000 })
  const mean = (name: string) =>
    card(name)
      .locator('canvas')
      .evaluate((canvas: HTMLCanvasElement) => {
        const { data } = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height)
        return data.reduce((sum, value) => sum + value, 0) / data.length
      })
  expect(await mean('Worst glare')).toBeGreaterThan(10 + (await mean('Darkest')))
  await expect(card('Worst glare')).toContainText(/times paper white.*°/)
  await expect(card('Darkest')).toContainText(/of paper white.*°/)

  const pose = page.locator('.pose')
  await card('Darkest').click()
  await expect(card('Darkest')).toHaveAttribute('aria-pressed', 'true')
  await expect(pose).toContainText('Tilt')
  const dark = await pose.textContent()
  await card('Worst glare').click()
  await expect(pose).not.toHaveText(dark ?? '')
  // One press leads back to before the first.
  await card('Worst glare').click()
  await expect(pose).toHaveText('Straight on')
  await expect(carton.locator('canvas')).toHaveCount(3)

  await page.getByLabel('Elevation').fill('40')
  await page.getByLabel('Elevation').press('Enter')
  await expect(carton).toHaveCount(0)
  await expect(page.getByText('The job was changed since')).toBeVisible()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(carton.locator('canvas')).toHaveCount(3)
  expect(errors).toEqual([])
})

test('every place is tilted, and its light shown on average, at its darkest and at its brightest', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await page.getByRole('button', { name: 'Checks' }).click()
  await page.getByRole('radio', { name: 'Light', exact: true }).check({ force: true })
  await page.getByRole('button', { name: 'Tilt every place' }).click()
  await expect(page.getByRole('img', { name: /^Light of every place, on average/ })).toBeVisible({
    timeout: 120_000,
  })
  await page.getByRole('radio', { name: 'At its brightest' }).check({ force: true })
  await expect(page.getByRole('img', { name: /^Light of every place, at its brightest/ })).toBeVisible()
  const numbers = page.getByRole('table', { name: 'Part of the art by its light over all views' })
  await page.locator('summary', { hasText: 'The same in numbers' }).first().click()
  const dazzles = numbers.getByRole('row', { name: /^dazzles/ }).getByRole('cell')
  // White and print lie on a part of the panel, bare foil on the rest, which mirrors the lamp at some tilt.
  const [, darkest, brightest] = (await dazzles.allTextContents()).map(words => Number.parseInt(words, 10))
  expect(darkest).toBe(0)
  expect(brightest).toBeGreaterThan(20)
  expect(brightest).toBeLessThan(100)
  expect(errors).toEqual([])
})
