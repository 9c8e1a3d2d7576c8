import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import { jobFor } from '../../../scripts/walk/jobs.mjs'
import { test } from '../../support/served.ts'
import { ready } from '../../support/table.ts'

/** The sheet of proofs on a saved job: notes that stay, notes that come back, a sign-off that an edit supersedes. */

const sheetOf = (page: Page) => page.getByRole('dialog', { name: 'Proofs' })

async function part(page: Page, name: string): Promise<void> {
  if (!(await sheetOf(page).isVisible())) await page.getByRole('button', { name: /^Proofs/ }).click()
  await sheetOf(page).getByRole('radio', { name, exact: true }).check({ force: true })
}

/** A saved job in a folder of its own. */
function savedJob(): { readonly job: string; readonly beside: (ending: string) => string } {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-proofs-'))
  const job = jobFor('demo', folder)
  if (job === undefined) throw new Error('no job')
  return { job, beside: ending => join(folder, `demo.${ending}`) }
}

async function putNote(page: Page, text: string): Promise<void> {
  await part(page, 'Notes')
  await page.getByRole('button', { name: 'Put a note on the carton' }).click()
  await page.getByText('Press the place that the note is about').waitFor()
  const box = await page.locator('.table').boundingBox()
  if (box === null) throw new Error('no table')
  await page.mouse.click(box.x + 0.45 * box.width, box.y + 0.4 * box.height)
  await sheetOf(page)
    .getByLabel(/^New note at/)
    .fill(text)
  await sheetOf(page).getByLabel('Who says so').fill('Ana')
  await sheetOf(page).getByRole('button', { name: 'Keep the note' }).click()
  await expect(sheetOf(page).getByText(text)).toBeVisible()
}

test('a note is put on a place, found again after a reload, and shown as it was seen', async ({ open }) => {
  const { job, beside } = savedJob()
  const { page, errors } = await open(job)
  await ready(page)
  // How the carton is held is a look: nothing of it is to be saved.
  for (let i = 0; i < 6; i++) await page.locator('.table').press('ArrowUp')
  await putNote(page, 'Too dark here <b>by far</b>')
  const [kept] = JSON.parse(readFileSync(beside('notes.json'), 'utf8')).notes
  expect(kept).toMatchObject({
    author: 'Ana',
    text: 'Too dark here <b>by far</b>',
    view: { pose: { tiltForwardDeg: 12 } },
  })

  await page.reload()
  await ready(page)
  await part(page, 'Notes')
  await expect(page.locator('.note-flag')).toHaveText('1')
  await expect(page.locator('#pose')).toHaveText('Straight on')
  await page.locator('.note-flag').click()
  await expect(page.locator('#pose')).toContainText('Tilt 12°')
  await expect(page.locator('.what')).toContainText('Saved')
  await page.getByRole('button', { name: 'Back to where I was' }).click()
  await expect(page.locator('#pose')).toHaveText('Straight on')
  expect(errors).toEqual([])
})

test('returned notes are merged, each once; those of another job are refused in words', async ({ open }) => {
  const { job, beside } = savedJob()
  const { page, errors } = await open(job)
  await ready(page)
  await putNote(page, 'Our own')
  const own = JSON.parse(readFileSync(beside('notes.json'), 'utf8'))
  const [note] = own.notes
  const returned = join(mkdtempSync(join(tmpdir(), 'rakelight-returned-')), 'returned.notes.json')
  const take = async (change: object) => {
    writeFileSync(returned, JSON.stringify({ ...own, ...change }))
    const chooser = page.waitForEvent('filechooser')
    await sheetOf(page).getByRole('button', { name: 'Take in returned notes…' }).click()
    await (await chooser).setFiles(returned)
  }
  const theirs = { ...note, id: 'note-of-the-client', author: 'Client', text: 'From a phone' }
  await take({ notes: [note, theirs, { ...note, text: 'The same mark, other words' }] })
  await expect(sheetOf(page).getByText(/2 notes and answers came in/)).toContainText('both are kept')
  await expect(sheetOf(page).getByText('From a phone')).toBeVisible()
  await expect(sheetOf(page).getByText('kept twice')).toHaveCount(2)
  await expect(page.locator('.note-flag')).toHaveCount(3)

  await take({ jobName: 'lens.job.json', notes: [theirs] })
  await expect(sheetOf(page).getByText(/belong to "lens.job.json"/)).toBeVisible()
  await expect(page.locator('.note-flag')).toHaveCount(3)
  expect(errors).toEqual([])
})

test('a sign-off stands until an edit supersedes it, which says what it costs; a changed byte shows on opening', async ({
  open,
}) => {
  const { job, beside } = savedJob()
  const { page, errors } = await open(job)
  await ready(page)
  await part(page, 'Sign-off')
  await sheetOf(page).getByRole('button', { name: 'Ask people…' }).click()
  await sheetOf(page).getByLabel('Name', { exact: true }).fill('Ana')
  await sheetOf(page).getByLabel('Who asks').fill('Jo')
  await sheetOf(page).getByRole('button', { name: 'Ask them' }).click()
  await expect(sheetOf(page).getByText('Waits for Ana')).toBeVisible()
  await sheetOf(page).getByRole('button', { name: 'Sign…' }).click()
  await sheetOf(page).getByRole('button', { name: 'Sign', exact: true }).click()
  await expect(sheetOf(page).getByText('It stands')).toBeVisible()
  await expect(page.getByRole('button', { name: /^Proofs/ })).toContainText('signed')

  // A tilt is a look, not an edit.
  await page.locator('.table').press('ArrowUp')
  await page.locator('.coat', { hasText: 'White' }).locator('.card-head').first().click()
  await page.getByLabel('Opacity').fill('95')
  await page.getByLabel('Opacity').press('Enter')
  await expect(sheetOf(page).getByText('Superseded', { exact: true })).toBeVisible({ timeout: 30_000 })
  await expect(sheetOf(page).locator('.standing b')).toHaveText('new plates')
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(sheetOf(page).getByText('It stands')).toBeVisible({ timeout: 30_000 })

  const record = readFileSync(beside('signoff.json'), 'utf8')
  writeFileSync(beside('signoff.json'), record.replace('"Approved"', '"Rejected"'))
  await page.reload()
  await ready(page)
  await expect(page.getByRole('button', { name: /^Proofs/ })).toContainText('record changed', {
    timeout: 30_000,
  })
  await part(page, 'Sign-off')
  await expect(sheetOf(page).getByText('Changed after it was written')).toBeVisible()
  await expect(sheetOf(page).getByText(/entry 2, Ana/)).toBeVisible()
  expect(errors).toEqual([])
})
