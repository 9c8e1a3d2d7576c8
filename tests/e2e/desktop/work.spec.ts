import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { test } from '../../support/desktop.ts'
import { middle, ready } from '../../support/table.ts'
import { demoJob } from '../demo.ts'

test('the demo becomes a saved job, is undone to the start, and outlives a crash', async ({ open }) => {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-work-'))
  const place = join(folder, 'eyepiece.job.json')
  try {
    const { app, page } = await open(demoJob)
    await ready(page)
    await app.evaluate(({ dialog }, filePath) => {
      dialog.showSaveDialog = async () => ({ canceled: false, filePath })
    }, place)

    await page.locator('.coat', { hasText: 'Holography' }).getByRole('button').first().click()
    await page.locator('.card-head', { hasText: 'Holo lens rings' }).click()
    const pitch = page.getByLabel('Pitch', { exact: true }).first()
    const was = await pitch.inputValue()
    const edited = String(Number(was) + 150)
    await pitch.fill(edited)
    await pitch.press('Enter')
    await page.getByLabel('Elevation').fill('40')
    await page.getByLabel('Elevation').press('Enter')
    await page.mouse.click(...(await middle(page)))
    await page.getByRole('button', { name: 'Keep as a pin' }).click()
    await page.keyboard.press('Control+Shift+s')
    await expect(page.locator('.what')).toContainText('Saved')
    const saved = JSON.parse(readFileSync(place, 'utf8'))
    expect(saved.pins).toHaveLength(1)
    expect(saved.light.lamps[0].pose.elevationDeg).toBe(40)
    expect(JSON.stringify(saved.effects)).toContain(edited)

    const undo = page.getByRole('button', { name: 'Undo' })
    while (await undo.isEnabled()) await undo.click()
    await expect(pitch).toHaveValue(was)
    await expect(page.getByLabel('Elevation')).toHaveValue('60')
    await page.getByLabel('Elevation').fill('25')
    await page.getByLabel('Elevation').press('Enter')
    const drafts = join(await app.evaluate(({ app }) => app.getPath('userData')), 'drafts')
    // The folder is made with the first draft, and a draft may be put in its place while it is read.
    const drafted = () => {
      try {
        return readdirSync(drafts).map(name => readFileSync(join(drafts, name), 'utf8'))
      } catch {
        return []
      }
    }
    await expect.poll(() => drafted().join()).toContain('"elevationDeg":25')

    const text = readFileSync(place, 'utf8')
    const gone = new Promise(resolve => app.process().once('exit', resolve))
    app.process().kill('SIGKILL')
    await gone

    const again = await open()
    const asks = again.page.getByRole('dialog', { name: 'Work was left unsaved' })
    await expect(asks).toContainText('eyepiece.job.json')
    await asks.getByRole('button', { name: 'Take it up again' }).click()
    await ready(again.page)
    await expect(again.page.getByLabel('Elevation')).toHaveValue('25')
    expect(readFileSync(place, 'utf8'), 'the file is as it was saved').toBe(text)
    await again.page.keyboard.press('Control+s')
    await expect(again.page.locator('.what')).toContainText('Saved')
    await expect.poll(() => readdirSync(drafts).length).toBe(0)
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
