import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect } from '@playwright/test'
import { test } from '../../support/served.ts'
import { demoArt, demoJob, expectPanel } from '../demo.ts'

test('the token leaves the address, and the panel is drawn', async ({ open }) => {
  const { page, origin, errors } = await open(demoJob)
  await expectPanel(page)
  expect(page.url()).toBe(`${origin}/`)
  expect(errors).toEqual([])
})

test('a page without the token is told how to get in', async ({ open, browser }) => {
  const { origin } = await open()
  const stranger = await (await browser.newContext()).newPage()
  const answer = await stranger.goto(`${origin}/`)
  expect(answer?.status()).toBe(403)
  await expect(stranger.getByText('open rakelight by the address it printed')).toBeVisible()
})

test('a page of another origin cannot reach the handlers, even in the same browser', async ({ open }) => {
  const { page, origin } = await open()
  const other = await page.context().newPage()
  await other.goto('data:text/html,<title>elsewhere</title>')
  const outcome = await other.evaluate(
    address =>
      fetch(`${address}/request/recent`, {
        method: 'POST',
        credentials: 'include',
        headers: { 'Content-Type': 'text/plain' },
        body: '{}',
      }).then(
        answer => `answered ${answer.status}`,
        () => 'failed',
      ),
    origin,
  )
  expect(outcome).toBe('failed')
})

test('a job from a stranger reads no file outside its folder without asking', async ({ open }) => {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-e2e-'))
  mkdirSync(join(folder, 'mail'))
  copyFileSync(demoArt, join(folder, 'private.psd'))
  const job = JSON.parse(readFileSync(demoJob, 'utf8'))
  job.art.path = '../private.psd'
  writeFileSync(join(folder, 'mail', 'gift.job.json'), JSON.stringify(job))
  const { page, requested } = await open(join(folder, 'mail', 'gift.job.json'))
  await expect(page.getByText('The art lies elsewhere')).toBeVisible()
  await expect(page.locator('canvas')).toHaveCount(0)
  expect(requested.filter(url => url.endsWith('/request/importArt'))).toEqual([])
  rmSync(folder, { recursive: true, force: true })
})
