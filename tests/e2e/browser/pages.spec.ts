import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { PDFDocument } from '../../../core/base/pdf.ts'
import { test } from '../../support/served.ts'
import { ready } from '../../support/table.ts'

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
    expect(errors).toEqual([])
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
