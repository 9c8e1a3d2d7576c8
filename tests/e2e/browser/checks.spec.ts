import AxeBuilder from '@axe-core/playwright'
import { expect, type Page } from '@playwright/test'
import { test } from '../../support/served.ts'
import { drag, drawing, middle, ready, smallArt } from '../../support/table.ts'

/** The sheet of checks, on a small front of 152 ppi whose blue disc has no white under it. */

const sheetOf = (page: Page) => page.getByRole('dialog', { name: 'Checks' })
const press = (page: Page, name: string | RegExp) =>
  sheetOf(page).getByRole('button', { name }).first().click()
const part = (page: Page, name: string) =>
  sheetOf(page).getByRole('radio', { name, exact: true }).check({ force: true })
/** A processor that does other things too takes its time. */
const patient = { timeout: 300_000 }

async function opened(page: Page): Promise<void> {
  await expect(page.locator('.picture canvas')).toBeVisible(patient)
  await ready(page)
}

async function run(page: Page): Promise<void> {
  await press(page, /^Run (the checks|again)$/)
  await expect(sheetOf(page).getByRole('button', { name: 'Run again' })).toBeVisible(patient)
}

test('checks run when they are asked, show the place of what they found and lead back; one is let stand, a limit is set', async ({
  open,
}) => {
  test.setTimeout(900_000)
  const { page, errors } = await open(smallArt().path)
  await opened(page)
  await page.locator('.table').press('f')
  const sheet = sheetOf(page)
  await expect(sheet).toContainText('Not checked yet.')

  // The disc is marked by keys alone; nothing runs by itself.
  await part(page, 'Marks')
  await sheet.getByRole('radio', { name: 'Brand colour' }).check({ force: true })
  await press(page, 'Put one in the middle')
  await sheet.getByLabel('Name of Brand colour 1').fill('Halden blue')
  await sheet.getByLabel('Name of Brand colour 1').press('Enter')
  for (const [side, at] of [
    ['Bottom', '14'],
    ['Top', '26'],
  ] as const) {
    await sheet.getByLabel(side, { exact: true }).fill(at)
    await sheet.getByLabel(side, { exact: true }).press('Enter')
  }
  await part(page, 'Found')
  await expect(sheet).toContainText('Not checked yet.')
  await run(page)

  const blue = sheet.getByRole('listitem').filter({ hasText: 'Halden blue' }).first()
  await expect(blue).toContainText('against a limit of')
  await blue.getByRole('button', { name: /^Show it/ }).click()
  await expect(page.locator('.shown-over .draw-line')).toHaveAttribute('d', /\d/)
  await expect(page.locator('.pose')).toContainText('%')
  await expect(page.locator('.marks-over .draw-line')).toHaveAttribute('d', /\d/)
  // The outline lies in the part of the table that the sheet leaves free.
  const [outline, covered] = [
    await page.locator('.shown-over .draw-line').boundingBox(),
    await sheet.boundingBox(),
  ]
  expect(outline!.x + outline!.width).toBeLessThan(covered!.x)
  await page.getByRole('button', { name: 'Back to where I was' }).click()
  await expect(page.locator('.pose')).toHaveText('Straight on')

  await blue.getByRole('button', { name: 'Let it stand…' }).click()
  await blue.getByLabel('Why it may stand').fill('The client has seen it')
  await blue.getByLabel('Who says so').fill('I. Halden')
  await blue.getByLabel('Who says so').press('Enter')
  await expect(sheet.getByRole('status')).toContainText('1 waived')
  await expect(sheet.getByText(/Waived by I\. Halden, \d{4}-\d\d-\d\d: The client has seen it/)).toBeVisible()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(sheet.getByRole('status')).not.toContainText('waived')
  await expect(sheet.getByRole('status')).not.toContainText('earlier state')

  await sheet.getByLabel('Found by').selectOption('preflight')
  const coarse = sheet.getByRole('listitem').filter({ hasText: 'small.psd' }).first()
  await expect(coarse).toContainText('152')
  await expect(blue).toHaveCount(0)
  await coarse.getByRole('button', { name: 'Its limit' }).click()
  const limit = sheet.getByRole('listitem').filter({ hasText: 'Resolution of pictures' }).first()
  await expect(limit).toBeVisible()
  await limit.getByRole('button', { name: 'Set another: resolution of pictures' }).click()
  await limit.getByLabel('Value for this job').fill('5')
  await limit.getByLabel('Whose it is').fill('The plant, by letter')
  await expect(limit.getByRole('alert')).toHaveText('Takes 72 to 2400 ppi')
  await expect(limit.getByRole('button', { name: 'Judge by it' })).toBeDisabled()
  await limit.getByLabel('Value for this job').fill('150')
  await limit.getByRole('button', { name: 'Judge by it' }).click()
  await expect(limit).toContainText('set in the job')
  await expect(sheet.getByRole('status')).toContainText('earlier state')
  await run(page)
  await part(page, 'Found')
  await expect(sheet.getByRole('listitem').filter({ hasText: '300 ppi' })).toHaveCount(0)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(sheet.getByRole('status')).toContainText('earlier state')
  expect(errors).toEqual([])
})

test('checks that are given up leave the sheet as it was; an area is marked by hand on the panel', async ({
  open,
}) => {
  test.setTimeout(600_000)
  const { page, errors } = await open(smallArt().path)
  await opened(page)
  await page.getByRole('button', { name: 'Checks', exact: true }).click()
  await press(page, 'Run the checks')
  await press(page, 'Cancel')
  await expect(sheetOf(page).getByRole('button', { name: 'Run the checks' })).toBeVisible(patient)
  await expect(sheetOf(page)).toContainText('Not checked yet.')

  await part(page, 'Marks')
  await sheetOf(page).getByRole('radio', { name: 'Code' }).check({ force: true })
  await drawing(page, 'Ellipse', sheetOf(page))
  await expect(sheetOf(page)).toHaveCount(0)
  await drag(page, (await middle(page)).map(at => at - 40) as [number, number], 80, 80)
  await expect(sheetOf(page).getByLabel('Name of Code 1')).toBeVisible()
  await expect(page.locator('.draw-over')).toContainText('Code 1')
  await sheetOf(page).getByRole('combobox', { name: 'Code 1 is' }).selectOption('text')
  await press(page, 'Delete Code 1')
  await expect(sheetOf(page)).toContainText('Nothing is marked yet.')
  for (let i = 0; i < 3; i++) await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.getByRole('button', { name: 'Undo' })).toBeDisabled()
  expect(errors).toEqual([])
})

test('the sheet of checks keeps to WCAG 2.2 AA, light and dark', async ({ open, page }) => {
  test.setTimeout(900_000)
  await page.emulateMedia({ colorScheme: 'light', reducedMotion: 'reduce' })
  await open(smallArt().path)
  await opened(page)
  await page.locator('.table').press('f')
  await part(page, 'Marks')
  await press(page, 'Put one in the middle')
  await part(page, 'Found')
  await run(page)
  await press(page, /^Show it/)
  await press(page, 'Let it stand…')
  for (const name of ['Found', 'Register', 'Light', 'Marks', 'Limits'] as const) {
    await part(page, name)
    if (name === 'Limits') {
      await sheetOf(page).locator('summary').first().click()
      await press(page, /^Set another/)
    }
    if (name === 'Light')
      await expect(sheetOf(page).locator('.frame-card canvas').nth(2)).toBeVisible(patient)
    for (const theme of ['dark', 'light'] as const) {
      await page.emulateMedia({ colorScheme: theme })
      await expect(page.locator('html')).toHaveAttribute('data-theme', theme)
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
        .analyze()
      expect
        .soft(violations.map(({ id, nodes }) => `${name}, ${theme}: ${id}: ${nodes[0]?.target.join(' ')}`))
        .toEqual([])
    }
  }
})
