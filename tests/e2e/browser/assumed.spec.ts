import { fileURLToPath } from 'node:url'
import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { ready } from '../../support/table.ts'

const demoJob = fileURLToPath(new URL('../../../demo-assets/demo.job.json', import.meta.url))

test('assumed numbers: a measured value is set in its place and a note says how, until it is undone', async ({
  open,
}) => {
  const { page, errors } = await open(demoJob)
  await ready(page)
  await page.getByRole('button', { name: 'Assumed', exact: true }).click()
  const sheet = page.getByRole('dialog', { name: 'Assumed numbers' })
  const row = sheet.getByRole('listitem').filter({ hasText: 'Waviness of the board' })
  const value = row.getByLabel('Now')
  const note = row.getByLabel('Measured: with what, by whom, when')
  await value.fill('2')
  await value.press('Enter')
  await note.fill('photo of a lamp at 5 m, May')
  await note.blur()
  await expect(page.locator('.what')).toContainText('Changes not saved')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(note).toHaveValue('')
  await expect(value).toHaveValue('2.0')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(value).not.toHaveValue('2.0')
  expect(errors).toEqual([])
})
