import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, type Page } from '@playwright/test'
import { decode as decodePng } from 'fast-png'
import { unzipSync } from 'fflate'
import { openPage } from '../../../core/proof/open-page.ts'
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

test('what is sent out leaves the window whole: a proof that is a version, plates, pictures and a movie', async ({
  open,
}) => {
  const { job, beside } = savedJob()
  const { page, errors } = await open(job)
  await ready(page)
  await part(page, 'Send out')
  const card = (title: string) => sheetOf(page).getByRole('button', { name: new RegExp(`^${title}`) })
  const sent = async (does: string): Promise<{ readonly name: string; readonly bytes: Buffer }> => {
    const coming = page.waitForEvent('download', { timeout: 180_000 })
    await sheetOf(page).getByRole('button', { name: does }).click()
    const download = await coming
    return { name: download.suggestedFilename(), bytes: readFileSync(await download.path()) }
  }

  await card('One-file proof').click()
  await sheetOf(page).getByLabel('Run the checks, and tell what they found').uncheck()
  const proof = await sent('Make the proof')
  expect(proof.name).toBe('demo.proof.html')
  const { manifest } = openPage(proof.bytes.toString(), proof.name)
  await expect(sheetOf(page).getByText('It is version')).toContainText(manifest.of.id.slice(0, 8))
  const { versions } = JSON.parse(readFileSync(beside('versions.json'), 'utf8'))
  expect(versions[0]).toMatchObject({ version: { id: manifest.of.id }, files: [{ name: 'demo.proof.html' }] })

  await card('Plates').click()
  await sheetOf(page).getByLabel('TIFF, one a plate').check()
  const plates = await sent('Make the plates')
  expect(plates.name).toBe('demo.plates.zip')
  const files = unzipSync(plates.bytes)
  expect(Object.keys(files)).toEqual(
    expect.arrayContaining(['demo.White.tif', 'demo.Cyan.tif', 'demo.inks.tif', 'demo.plates.pdf']),
  )
  expect(Buffer.from(files['demo.plates.pdf']!).toString('latin1', 0, 5)).toBe('%PDF-')

  await card('Pictures').click()
  for (const name of ['At its best', 'At its darkest', 'At its worst glare'])
    await sheetOf(page).getByLabel(name).uncheck()
  const picture = await sent('Make the pictures')
  expect(picture.name).toMatch(/^demo.*contact.*\.png$/)
  expect(decodePng(picture.bytes).width).toBeGreaterThan(1000)

  await card('Movie').click()
  await sheetOf(page).getByLabel('GIF').check({ force: true })
  await sheetOf(page).getByLabel('Size', { exact: true }).selectOption('640 480')
  await sheetOf(page).getByLabel('Length').fill('0.4')
  await sheetOf(page).getByLabel('Length').press('Enter')
  await sheetOf(page).getByLabel('Frames a second').fill('5')
  await sheetOf(page).getByLabel('Frames a second').press('Enter')
  // Squeezed into half a second the run strobes: nothing is drawn until somebody takes that on.
  await sheetOf(page).getByRole('button', { name: 'Make the movie' }).click()
  await expect(sheetOf(page).getByRole('alert')).toContainText('Nothing was drawn. Flashes too often', {
    timeout: 60_000,
  })
  const movie = await sent('Make it all the same')
  expect(movie.name).toMatch(/^demo.*\.gif$/)
  expect(movie.bytes.toString('latin1', 0, 6)).toBe('GIF89a')
  expect([movie.bytes.readUInt16LE(6), movie.bytes.readUInt16LE(8)]).toEqual([640, 480])
  expect(errors).toEqual([])
})
