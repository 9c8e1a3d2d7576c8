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
  // A processor draws every state of two pictures to its finest edge.
  test.setTimeout(600_000)
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
  const [printed, proofed] = await both()
  expect(changed(inner(printed), inner(proofed))).toBeGreaterThan(0.02)
  await expect(undo).toBeDisabled()
  await expect(page.locator('.what')).not.toContainText('Changes not saved')

  // Without white and overprint there is no film: bare board in both.
  await leaves.getByRole('button', { name: /^Leaves/ }).click()
  await leaves.getByLabel('Overprint').uncheck()
  await leaves.getByLabel('White').uncheck()
  await leaves.getByRole('button', { name: /^Leaves/ }).click()
  await page.mouse.move(5, 5)
  const bare = [
    await steady(page, page.locator('.design canvas').first()),
    await steady(page, page.locator('.design canvas').last()),
  ] as const
  // Leaves that lie apart are summed in another order: a pixel or two at the edge of a flash is rounded the other way.
  expect(changed(inner(bare[0]), inner(bare[1]))).toBeLessThan(0.001)
  await undo.click()
  await undo.click()
  await expect(undo).toBeDisabled()
  await expect(print).toBeVisible()

  // A spot is read in the picture that is pointed at, and told from the other.
  const spot = page.getByLabel('Spot', { exact: true })
  await proof.locator('.table').click()
  await expect(spot).toContainText('As a film proof')
  await expect(spot.locator('.beside')).toContainText(/as printed, ΔE00\s\d/)
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

/** The part of a picture that neither captions nor lamp nor buttons lie on: its rows from 45 to 80 %, columns from 25 to 75 %. */
function inner({ width, height, channels, data }: Shot): Shot {
  const [left, right, top, bottom] = [0.25 * width, 0.75 * width, 0.45 * height, 0.8 * height].map(Math.round)
  const all = Array.from(data)
  const rows = Array.from({ length: bottom! - top! }, (_, i) => {
    const row = (top! + i) * width
    return all.slice((row + left!) * channels, (row + right!) * channels)
  })
  return { width: right! - left!, height: rows.length, channels, data: rows.flat() }
}
