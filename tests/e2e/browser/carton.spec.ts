import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { changed, drag, middle, ready, smallArt, steady } from '../../support/table.ts'

test('the panel folds into a carton: style, size, slider, one fold apart; a spot is read on it; undo lays it flat', async ({
  open,
}) => {
  const { page, errors } = await open(smallArt().path)
  await ready(page)
  const flat = await steady(page)
  await page.getByRole('button', { name: 'Fold it into a carton' }).click()
  const card = page.getByRole('region', { name: 'Carton' })
  await expect(card.locator('.die svg').first()).toHaveAccessibleName(/The blank, .* mm: .*front/)
  const closed = await steady(page)

  await page.getByLabel('Fold', { exact: true }).fill('0')
  await expect(page.locator('.fold-slide output')).toHaveText('flat')
  const blank = await steady(page)
  // The blank is larger than the closed carton, so everything is drawn smaller.
  expect(changed(closed, blank)).toBeGreaterThan(0.1)

  await page.getByLabel('Fold', { exact: true }).fill('1')
  await drag(page, await middle(page), 120, -60)
  await expect(page.locator('.pose')).toHaveText(/^Tilt/)
  const turned = await steady(page)
  expect(changed(closed, turned)).toBeGreaterThan(0.1)
  await page.mouse.click(...(await middle(page)))
  await expect(page.locator('.spot')).toContainText('Inks')
  await page.getByRole('button', { name: 'Let go' }).click()

  await card.getByText('Each fold').click()
  const lid = card.getByRole('slider', { name: 'top lid' })
  await lid.fill('0')
  await expect(card.locator('.hinges output').filter({ hasText: 'apart' })).toHaveCount(1)
  expect(changed(turned, await steady(page))).toBeGreaterThan(0.005)

  await card.getByLabel('Style').selectOption({ label: 'sleeve' })
  await expect(card.locator('.card-name')).toContainText('Sleeve')
  await card.getByLabel('Width', { exact: true }).fill('0')
  await expect(card.getByText('1 to 1500')).toBeVisible()
  await card.getByLabel('Width', { exact: true }).press('Escape')

  for (;;) {
    const undo = page.getByRole('button', { name: 'Undo' })
    if (await undo.isDisabled()) break
    await undo.click()
  }
  await expect(page.getByRole('button', { name: 'Fold it into a carton' })).toBeVisible()
  await page.locator('.table').press('Home')
  await page.mouse.move(5, 5)
  expect(changed(flat, await steady(page))).toBeLessThan(0.01)
  expect(errors).toEqual([])
})

test('sizes that make no carton are said on the card and among the findings; the panel stays flat', async ({
  open,
}) => {
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.getByRole('button', { name: 'Fold it into a carton' }).click()
  const card = page.getByRole('region', { name: 'Carton' })
  await card.getByLabel('Width', { exact: true }).fill('1')
  await card.getByLabel('Width', { exact: true }).press('Enter')
  await expect(card.getByRole('alert')).toContainText('carton')
  await expect(page.getByLabel('Fold', { exact: true })).toHaveCount(0)
  await expect(page.getByRole('button', { name: /finding/ })).toBeVisible()
})
