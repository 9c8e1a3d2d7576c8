import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { changed, middle, ready, smallArt, steady } from '../../support/table.ts'

test('a folded carton opens for its leaves, a spot reads the proof, one button folds it again; undo goes all the way', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await page.getByRole('button', { name: 'Fold it into a carton' }).click()
  await page.getByRole('button', { name: /^Leaves/ }).click()
  await page.mouse.move(5, 5)
  // The card lies over the picture, so it is open in both.
  const folded = await steady(page)
  const leaves = page.getByRole('region', { name: 'Leaves' })
  await leaves.getByRole('radio', { name: 'As a film proof' }).check({ force: true })
  await expect(leaves).toContainText('The carton lies open and uncut')
  await expect(page.getByLabel('Fold', { exact: true })).toHaveCount(0)
  expect(changed(folded, await steady(page))).toBeGreaterThan(0.05)

  await page.mouse.click(...(await middle(page)))
  const spot = page.locator('.spot')
  await expect(spot).toContainText('Read as pictured')
  await expect(spot).toContainText('film proof')
  await leaves.getByLabel('White').uncheck()
  await expect(spot).toContainText('film proof, without white')
  await page.getByRole('button', { name: 'Let go' }).click()

  await leaves.getByRole('button', { name: 'Fold it again' }).click()
  await expect(page.getByLabel('Fold', { exact: true })).toBeVisible()
  await page.mouse.move(5, 5)
  expect(changed(folded, await steady(page))).toBeLessThan(0.01)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(leaves).toContainText('The carton lies open and uncut')
  expect(errors).toEqual([])
})
