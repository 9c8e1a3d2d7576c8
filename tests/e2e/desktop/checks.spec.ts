import { expect } from '@playwright/test'
import { test } from '../../support/desktop.ts'
import { ready, smallArt } from '../../support/table.ts'

test('checks run in the desktop window, and what they found is shown at its place', async ({ open }) => {
  test.setTimeout(600_000)
  const { page } = await open(smallArt().path)
  await ready(page)
  await page.locator('.table').press('f')
  const sheet = page.getByRole('dialog', { name: 'Checks' })
  await sheet.getByRole('button', { name: 'Run the checks' }).click()
  await expect(sheet.getByRole('button', { name: 'Run again' })).toBeVisible({ timeout: 300_000 })
  // Of the art, and of the reader of codes, whose program comes as WebAssembly.
  await expect(sheet).toContainText('at its finished size the art has 152 ppi')
  await expect(sheet).toContainText('no bar code or matrix code')
  await sheet
    .getByRole('button', { name: /^Show it/ })
    .first()
    .click()
  await expect(page.locator('.shown-over .draw-line')).toHaveAttribute('d', /\d/)
})
