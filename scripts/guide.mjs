// Walks the guide's steps in the built app and takes its pictures: `node scripts/guide.mjs [FOLDER]`.
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { argv, env, execPath } from 'node:process'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { chromium } from '@playwright/test'
import { build, workParts } from './build.mjs'
import { findBrowser } from './find/browser.mjs'
import { isRoot } from './find/desktop.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const folder = argv[2] ?? join(root, 'demo-assets', 'guide')

/** Mesa draws some five times faster than the software renderer inside the browser. */
const mesa = ['x86_64', 'aarch64'].some(cpu => existsSync(`/usr/lib/${cpu}-linux-gnu/libEGL_mesa.so.0`))
  ? ['--use-angle=gl-egl']
  : []

/** What a hand does at each step, in the guide's order. @type {Record<string, (page: import('@playwright/test').Page) => Promise<void>>} */
const walk = {
  async start(page) {
    await page.getByRole('button', { name: 'Look at the demo carton' }).click()
  },
  async tilt(page) {
    const { x, y } = await middle(page)
    await page.mouse.move(x, y)
    await page.mouse.down()
    await page.mouse.move(x, y - 40)
    await page.mouse.move(x, y - 80)
    await page.mouse.up()
    await page.mouse.move(5, 5)
  },
  async lamp(page) {
    await page.keyboard.press('Home')
    await page.getByLabel('Elevation').fill('40')
    await page.getByLabel('Elevation').press('Enter')
  },
  async effect(page) {
    await page.locator('.coat', { hasText: 'Holography' }).getByRole('button').first().click()
    await page.locator('.card-head', { hasText: 'Holo lens rings' }).click()
    const pitch = page.getByLabel('Pitch', { exact: true }).first()
    await pitch.fill(String(Number(await pitch.inputValue()) + 150))
    await pitch.press('Enter')
  },
  async spot(page) {
    const { x, y } = await middle(page)
    await page.mouse.click(x, y)
    await page.getByRole('button', { name: 'Keep as a pin' }).click()
  },
  async designs(page) {
    await page.getByRole('button', { name: 'Let go' }).click()
    await page.getByRole('button', { name: 'Try another design' }).click()
    await page.locator('.card-head', { hasText: 'name has "white"' }).click()
    await page.getByLabel('Opacity').fill('95')
    await page.getByLabel('Opacity').press('Enter')
    await page.getByRole('button', { name: 'Side by side' }).click()
    await page.locator('.design canvas').nth(1).waitFor({ timeout: 300_000 })
  },
  async anything(page) {
    await page.keyboard.press('F2')
    await page.getByRole('combobox', { name: 'What do you want to do?' }).fill('shop')
  },
}

for (const part of ['renderer', 'serve', ...workParts]) await build(part)
mkdirSync(folder, { recursive: true })
const home = mkdtempSync(join(tmpdir(), 'rakelight-guide-'))
const server = spawn(execPath, [join(root, 'dist', 'serve', 'launch.mjs')], {
  stdio: ['ignore', 'pipe', 'inherit'],
  env: { ...env, XDG_CONFIG_HOME: home, HOME: home },
})
const executablePath = findBrowser()
const browser = await chromium.launch({
  ...(executablePath === null ? {} : { executablePath }),
  args: ['--use-gl=angle', ...mesa, '--ignore-gpu-blocklist', ...(isRoot() ? ['--no-sandbox'] : [])],
})
try {
  const page = await browser.newPage({
    viewport: { width: 1280, height: 800 },
    // Pieces of foil that play a tilt would never come to rest.
    reducedMotion: 'reduce',
  })
  page.setDefaultTimeout(300_000)
  await page.goto(await address())
  for (const [name, step] of Object.entries(walk)) {
    await step(page)
    await settled(page)
    await page.screenshot({ path: join(folder, `${name}.jpg`), type: 'jpeg', quality: 82 })
    console.log(name)
  }
} finally {
  await browser.close()
  server.kill('SIGTERM')
  rmSync(home, { recursive: true, force: true })
}

/** @returns {Promise<string>} */
function address() {
  return new Promise((resolve, reject) => {
    createInterface({ input: server.stdout }).on('line', line => {
      const found = line.match(/http:\/\/\S+/)?.[0]
      if (found !== undefined) resolve(found)
    })
    server.once('exit', code => reject(new Error(`the server ended with status ${code}`)))
  })
}

/** The middle of the table. @param {import('@playwright/test').Page} page */
async function middle(page) {
  const box = await page.locator('.table').first().boundingBox()
  if (box === null) throw new Error('no table')
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
}

/** Nothing is built any more and the picture no longer changes. @param {import('@playwright/test').Page} page */
async function settled(page) {
  await page.locator('.stack[aria-busy="false"]').waitFor()
  await page.locator('.work').waitFor({ state: 'detached' })
  await page.locator('.picture canvas').first().waitFor()
  let last = ''
  for (let same = 0; same < 2; ) {
    await page.waitForTimeout(700)
    const next = (await page.locator('.picture canvas').first().screenshot()).toString('base64')
    same = next === last ? same + 1 : 0
    last = next
  }
}
