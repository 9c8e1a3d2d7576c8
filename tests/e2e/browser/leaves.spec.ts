import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { changed, middle, ready, type Shot, smallArt, steady } from '../../support/table.ts'

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

test('print and film proof stand beside each other, are held together and read apart; one click back, nothing to undo', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  await page.getByRole('button', { name: /^Leaves/ }).click()
  const leaves = page.getByRole('region', { name: 'Leaves' })
  const undo = page.getByRole('button', { name: 'Undo' })
  await leaves.getByRole('button', { name: 'Beside each other' }).click()
  const print = page.getByRole('region', { name: 'As printed' })
  const proof = page.getByRole('region', { name: 'As a film proof' })
  const both = async () => {
    await page.mouse.move(5, 5)
    return [await steady(page, print.locator('canvas')), await steady(page, proof.locator('canvas'))] as const
  }
  expect(changed(...(await both()))).toBeGreaterThan(0.02)
  await expect(undo).toBeDisabled()
  await expect(page.locator('.what')).not.toContainText('Changes not saved')

  // Without white and overprint there is no film: bare board in both.
  await leaves.getByRole('button', { name: /^Leaves/ }).click()
  await leaves.getByLabel('Overprint').uncheck()
  await leaves.getByLabel('White').uncheck()
  await leaves.getByRole('button', { name: /^Leaves/ }).click()
  const bare = [
    await steady(page, page.locator('.design canvas').first()),
    await steady(page, page.locator('.design canvas').last()),
  ] as const
  // The button of the leaves lies over the first.
  expect(changed(above(bare[0]), above(bare[1]))).toBe(0)
  await undo.click()
  await undo.click()
  await expect(undo).toBeDisabled()
  await expect(print).toBeVisible()

  // A spot is read in the picture that is pointed at, and told from the other.
  const spot = page.getByLabel('Spot', { exact: true })
  await proof.locator('.table').click()
  await expect(spot).toContainText('As a film proof')
  await expect(spot.locator('.beside')).toContainText(/as printed, ΔE00 \d/)
  const found = await spot.locator('.beside').textContent()
  await page.getByRole('button', { name: 'Let go' }).click()
  await print.locator('.table').click()
  await expect(spot).toContainText('As printed')
  await expect(spot.locator('.beside')).toContainText(found?.replace('as printed', 'as a film proof') ?? '')
  await page.getByRole('button', { name: 'Let go' }).click()

  // Held together.
  await proof.locator('.table').press('ArrowUp')
  await expect(print.locator('.pose')).toHaveText('Tilt 2°')
  await expect(proof.locator('.pose')).toHaveText('Tilt 2°')
  await print.locator('.table').press('+')
  await expect(proof.locator('.pose')).toHaveText('Tilt 2° · 125 %')

  await leaves.getByRole('button', { name: 'Beside each other' }).click()
  await expect(page.locator('.picture canvas')).toHaveCount(1)
  expect(errors).toEqual([])
})

/** The upper half of a picture. */
function above(shot: Shot): Shot {
  const height = shot.height >> 1
  const { width, channels } = shot
  return { width, height, channels, data: Array.from(shot.data).slice(0, width * height * channels) }
}
