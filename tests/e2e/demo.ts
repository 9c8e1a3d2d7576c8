import { fileURLToPath } from 'node:url'
import { expect, type Page } from '@playwright/test'
import { coloursOf } from '../support/served.ts'

const asset = (name: string): string => fileURLToPath(new URL(`../../demo-assets/${name}`, import.meta.url))

export const demoJob = asset('demo.job.json')
export const demoArt = asset('demo.psd')

/** The picture is there and is a picture: the demo panel under the lamp shows thousands of colours, a flat fill one. */
export async function expectPanel(page: Page): Promise<void> {
  await expect(page.locator('.picture canvas')).toBeVisible({ timeout: 90_000 })
  await expect.poll(() => coloursOf(page), { timeout: 60_000 }).toBeGreaterThan(100)
}
