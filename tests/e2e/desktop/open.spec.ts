import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import type {} from '../../../renderer/host/choose.ts'
import { answerDialogs, type Desktop, test } from '../../support/desktop.ts'
import { demoArt, demoJob, expectPanel } from '../demo.ts'

let folder: string

test.beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-e2e-'))
})

test.afterEach(() => {
  rmSync(folder, { recursive: true, force: true })
})

test('the job of the command line opens on the table, quietly and without a request elsewhere', async ({
  open,
}) => {
  const { page, errors, requested } = await open(demoJob)
  await expectPanel(page)
  await expect(page).toHaveTitle(/demo/)
  expect(errors).toEqual([])
  const elsewhere = requested.filter(url => !/^(rakelight:\/\/app\/|blob:rakelight:|data:)/.test(url))
  expect(elsewhere).toEqual([])
})

test('art is opened by the dialog, its job saved by the dialog, guarded while unsaved, and opened again', async ({
  open,
}) => {
  copyFileSync(demoArt, join(folder, 'front.psd'))
  const place = join(folder, 'front.job.json')
  const { app, page, errors } = await open()
  await answerDialogs(app, join(folder, 'front.psd'), place)
  await page.getByRole('button', { name: 'Open art or a job' }).click()
  await expectPanel(page)
  await page.keyboard.press('Control+s')
  await expect.poll(() => existsSync(place)).toBe(true)
  expect(JSON.parse(readFileSync(place, 'utf8'))).toMatchObject({ art: { path: 'front.psd' } })

  await page.locator('.card-head', { hasText: 'White' }).first().click()
  await page.getByLabel('Role', { exact: true }).selectOption('varnish')
  await expect(page).toHaveTitle(/^•/)
  await askToClose({ app }, 'Keep working')
  expect(app.windows()).toHaveLength(1)
  const closed = app.waitForEvent('close', { timeout: 120_000 })
  await askToClose({ app }, 'Close without saving').catch(() => undefined)
  await closed

  const again = await open(place)
  await expectPanel(again.page)
  expect([...errors, ...again.errors]).toEqual([])
})

test('a file is known by its path when it is dropped, and the page never sees the path', async ({ open }) => {
  copyFileSync(demoArt, join(folder, 'front.psd'))
  const { page } = await open()
  await page.evaluate(() => {
    const input = document.createElement('input')
    input.type = 'file'
    input.id = 'hand'
    document.body.append(input)
  })
  await page.locator('#hand').setInputFiles(join(folder, 'front.psd'))
  const reply = await page.evaluate(() => {
    const [file] = (document.querySelector('#hand') as HTMLInputElement).files ?? []
    return window.rakelight?.adopt(file)
  })
  expect(reply).toMatchObject({ ok: true, value: { name: 'front.psd', kind: 'art' } })
  expect(JSON.stringify(reply)).not.toContain(folder)
  const made = await page.evaluate(() => window.rakelight?.adopt(new File(['x'], 'made.psd')))
  expect(made).toMatchObject({ ok: false, code: 'no-path' })
})

test('a job from a stranger reads no file outside its folder without asking', async ({ open }) => {
  mkdirSync(join(folder, 'mail'))
  copyFileSync(demoArt, join(folder, 'private.psd'))
  const job = JSON.parse(readFileSync(demoJob, 'utf8'))
  job.art.path = '../private.psd'
  writeFileSync(join(folder, 'mail', 'gift.job.json'), JSON.stringify(job))
  const { page } = await open(join(folder, 'mail', 'gift.job.json'))
  await expect(page.getByText('The art lies elsewhere')).toBeVisible()
  await expect(page.locator('canvas')).toHaveCount(0)
})

/** Closes the window as its cross does, with the user's answer to what it asks, and waits for that answer. */
async function askToClose({ app }: Pick<Desktop, 'app'>, answer: string): Promise<void> {
  await app.evaluate(
    ({ BrowserWindow, dialog }, wanted) =>
      new Promise<void>(resolve => {
        // A close that is asked for while the one before is still being refused is passed over by the engine.
        const close = () => BrowserWindow.getAllWindows()[0]?.close()
        const again = setInterval(close, 500)
        dialog.showMessageBoxSync = (...given: unknown[]) => {
          clearInterval(again)
          const { buttons } = given.at(-1) as { readonly buttons: readonly string[] }
          resolve()
          return buttons.indexOf(wanted)
        }
        close()
      }),
    answer,
  )
}
