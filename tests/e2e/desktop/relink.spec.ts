import { appendFileSync, mkdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { test } from '../../support/desktop.ts'
import { ready, smallArt } from '../../support/table.ts'

/** Art with its job beside it, as the desktop saves it. */
async function savedJob(open: Parameters<Parameters<typeof test>[2]>[0]['open']) {
  const art = smallArt()
  const job = join(art.folder, 'small.job.json')
  const { app, page } = await open(art.path)
  await ready(page)
  await app.evaluate(({ dialog }, filePath) => {
    dialog.showSaveDialog = async () => ({ canceled: false, filePath })
  }, job)
  await page.keyboard.press('Control+s')
  await expect(page.locator('.what')).toContainText('Saved')
  await app.close()
  return { ...art, job }
}

test('art that has moved is missed, and taken from its new place', async ({ open }) => {
  const { folder, path, job } = await savedJob(open)
  mkdirSync(join(folder, 'moved'))
  const place = join(folder, 'moved', 'small.psd')
  renameSync(path, place)

  const { app, page } = await open(job)
  const asks = page.getByRole('dialog', { name: 'The art is not there' })
  await expect(asks).toContainText('small.job.json needs small.psd')
  await app.evaluate(({ dialog }, file) => {
    dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [file] })
  }, place)
  await asks.getByRole('button', { name: 'Pick the art' }).click()
  await ready(page)
  await page.locator('.card-head', { hasText: 'Disc' }).click()
  await page.getByLabel('Role', { exact: true }).selectOption('varnish')
  await page.keyboard.press('Control+s')
  await expect(page.locator('.what')).toContainText('Saved')
  expect(JSON.parse(readFileSync(job, 'utf8')).art.path).toBe('moved/small.psd')
})

test('art that has changed is said, and used only when the user agrees', async ({ open }) => {
  const { path, job } = await savedJob(open)
  // Bytes after the end of the picture change the file and not what it shows.
  appendFileSync(path, 'later')
  const { app, page } = await open(job)
  // The window asks before it closes over the change, and nobody would answer.
  await app.evaluate(({ dialog }) => {
    dialog.showMessageBoxSync = () => 1
  })
  const asks = page.getByRole('dialog', { name: 'The art has changed' })
  await expect(asks).toContainText('small.psd is not the file')
  await asks.getByRole('button', { name: 'Use the changed file' }).click()
  await ready(page)
  await expect(page.locator('.what')).toContainText('Changes not saved')
})

test('a job from a newer version says so, and nothing else happens', async ({ open }) => {
  const { job } = await savedJob(open)
  writeFileSync(job, JSON.stringify({ ...JSON.parse(readFileSync(job, 'utf8')), version: 99 }))
  const { page } = await open(job)
  await expect(page.getByRole('alert')).toContainText('99')
  await expect(page.getByRole('button', { name: 'Open art or a job' })).toBeVisible()
})
