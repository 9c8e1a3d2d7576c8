import { copyFileSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { plateFolder } from '../../../scripts/walk/art.mjs'
import { answerDialogs, test } from '../../support/desktop.ts'
import { dropFiles, ready } from '../../support/table.ts'
import { demoPdf, expectPanel } from '../demo.ts'

let folder: string

test.beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-e2e-'))
})

test.afterEach(() => {
  rmSync(folder, { recursive: true, force: true })
})

test('a PDF is opened by the dialog and read with its inks and layers', async ({ open }) => {
  copyFileSync(demoPdf, join(folder, 'front.pdf'))
  const { app, page, errors } = await open()
  await answerDialogs(app, join(folder, 'front.pdf'), null)
  await page.getByRole('button', { name: 'Open art or a job' }).click()
  await expectPanel(page)
  await page.getByText('How the art is read').click()
  await expect(page.locator('.drawn-at')).toContainText('pixels')
  await expect(page.locator('.card-head', { hasText: 'White' }).first()).toBeVisible()
  expect(errors).toEqual([])
})

test('a folder of plates is chosen, saved as a job with all its files, opened again from the list, and dropped', async ({
  open,
}) => {
  const plates = plateFolder(folder)
  const place = join(plates, 'cap.job.json')
  const { app, page, errors } = await open()
  await answerDialogs(app, plates, place)
  await page.getByRole('button', { name: 'Open a folder of plates' }).click()
  const said = page.locator('.message')
  await expect(said).toContainText('6 plates by the names of their files: Black, Cyan, Holography', {
    timeout: 60_000,
  })
  await ready(page)
  await page.keyboard.press('Control+s')
  await expect.poll(() => existsSync(place)).toBe(true)
  const { art } = JSON.parse(readFileSync(place, 'utf8'))
  expect([art.path, ...art.beside.map((one: { readonly path: string }) => one.path)]).toEqual(
    ['Black', 'Cyan', 'Holography', 'Magenta', 'White', 'Yellow'].map(
      name => `Halden lens cap (${name}).png`,
    ),
  )

  await page.reload()
  await page.getByRole('button', { name: /\(Black\)\.png and 5 more/ }).click()
  await expect(said).toContainText('6 plates', { timeout: 60_000 })
  await ready(page)

  await page.reload()
  const heading = page.getByRole('heading', { name: 'Lay the art under the light.' })
  await dropFiles(heading, [plates])
  await expect(said).toContainText('6 plates', { timeout: 60_000 })
  await ready(page)
  expect(errors).toEqual([])
})
