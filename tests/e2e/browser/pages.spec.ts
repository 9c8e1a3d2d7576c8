import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { PDFDocument } from '../../../core/base/pdf.ts'
import { plateFolder } from '../../../scripts/walk/art.mjs'
import { test } from '../../support/served.ts'
import { dropFiles, ready } from '../../support/table.ts'

/** Two pages of 40 × 30 mm with a bar on each, locked. */
async function lockedPages(): Promise<Uint8Array> {
  const document = await PDFDocument.create()
  for (const width of [40, 60]) {
    const page = document.addPage([(40 / 25.4) * 72, (30 / 25.4) * 72])
    page.drawRectangle({ x: 10, y: 10, width, height: 40 })
  }
  document.encrypt({ userPassword: 'comet', ownerPassword: 'nebula' })
  return document.save()
}

test('a locked PDF asks for its password, then for the page, with a picture of each', async ({ open }) => {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-pages-'))
  const path = join(folder, 'rings.pdf')
  writeFileSync(path, await lockedPages())
  try {
    const { page, errors } = await open(path)
    await expect(page.getByRole('heading', { name: 'rings.pdf is locked' })).toBeVisible()
    await page.getByLabel('Password').fill('nova')
    await page.getByRole('button', { name: 'Open it' }).click()
    await expect(page.getByText('This password does not open it.')).toBeVisible()
    await page.getByLabel('Password').fill('comet')
    await page.getByRole('button', { name: 'Open it' }).click()

    await expect(page.getByRole('heading', { name: 'rings.pdf has 2 pages' })).toBeVisible()
    await expect(page.getByText('40 × 30 mm')).toHaveCount(2, { timeout: 20_000 })
    await expect(page.locator('.pages canvas').first()).toHaveJSProperty('width', 57)
    await page.getByRole('button', { name: /Page 2/ }).click()
    await ready(page)
    await expect(page.locator('.what')).toContainText('rings.pdf')

    await page.getByText('How the art is read').click()
    const drawnAt = page.getByLabel('Art drawn at')
    const pixels = page.locator('.drawn-at')
    await expect(pixels).toContainText('472 × 354 pixels; 4 plates of 0.2 MB each')
    await drawnAt.fill('600')
    await drawnAt.press('Tab')
    await expect(pixels).toContainText('945 × 709 pixels, 4 times as many as now')
    await page.getByRole('button', { name: 'Draw it anew' }).click()
    await expect(pixels).toContainText('945 × 709 pixels; 4 plates')
    await ready(page)
    await page.getByRole('button', { name: 'Undo' }).click()
    await expect(drawnAt).toHaveValue('300', { timeout: 20_000 })
    await ready(page)
    expect(errors).toEqual([])
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})

test('a folder of plates is chosen or dropped, and what each picture is by its name is said', async ({
  open,
}) => {
  const folder = plateFolder(mkdtempSync(join(tmpdir(), 'rakelight-plates-')))
  try {
    const { page, errors } = await open()
    const chooser = page.waitForEvent('filechooser')
    await page.getByRole('button', { name: 'Open a folder of plates' }).click()
    await (await chooser).setFiles(folder)
    const said = page.locator('.message')
    await expect(said).toContainText('6 plates by the names of their files: Black, Cyan, Holography', {
      timeout: 60_000,
    })
    await ready(page)
    await page.getByText('How the art is read').click()
    await expect(page.locator('.facts li', { hasText: 'Halden lens cap (White).png' })).toContainText(
      /^White/,
    )

    await page.reload()
    const heading = page.getByRole('heading', { name: 'Lay the art under the light.' })
    await dropFiles(heading, [folder])
    await expect(said).toContainText('6 plates by the names of their files', { timeout: 60_000 })
    await ready(page)
    expect(errors).toEqual([])
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
