import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, type Page } from '@playwright/test'
import { jobFor } from '../../scripts/walk/jobs.mjs'
import { coloursOf } from '../support/served.ts'

const asset = (name: string): string => fileURLToPath(new URL(`../../demo-assets/${name}`, import.meta.url))

export const demoArt = asset('demo.psd')
export const demoPdf = asset('demo.pdf')

/** The demo in a folder of its own, coarser and without a room: on a processor the whole of it takes half a minute to draw. */
export const demoJob = lighterDemo()

function lighterDemo(): string {
  const folder = mkdtempSync(join(tmpdir(), 'rakelight-demo-'))
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  return jobFor('demo', folder) as string
}

/** The picture is there and is a picture: the demo panel under the lamp shows thousands of colours, a flat fill one. */
export async function expectPanel(page: Page): Promise<void> {
  await expect(page.locator('.picture canvas')).toBeVisible({ timeout: 90_000 })
  await expect.poll(() => coloursOf(page), { timeout: 60_000 }).toBeGreaterThan(100)
}
