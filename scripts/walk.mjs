// Takes a picture of every state of the window, to be looked at:
// `node scripts/walk.mjs FOLDER [--size 1280x800] [--scale 1] [--theme light] [--only SITTING] [--touch]`.
import { spawn } from 'node:child_process'
import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { env, execPath } from 'node:process'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { parseArgs } from 'node:util'
import { chromium } from '@playwright/test'
import { build, workParts } from './build.mjs'
import { findBrowser } from './find/browser.mjs'
import { isRoot } from './find/desktop.mjs'
import { jobFor } from './walk/jobs.mjs'
import { sittings } from './walk/states.mjs'

const root = fileURLToPath(new URL('..', import.meta.url))
const { values, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    size: { type: 'string', default: '1280x800' },
    scale: { type: 'string', default: '1' },
    theme: { type: 'string', default: 'light' },
    only: { type: 'string' },
    touch: { type: 'boolean', default: false },
  },
})
const folder = positionals[0] ?? join(tmpdir(), 'rakelight-walk')
const [width = 1280, height = 800] = values.size.split('x').map(Number)

/** How long a picture may still sharpen, ms; pieces of foil stand still. */
const restMs = 900

const mesa = ['x86_64', 'aarch64'].some(cpu => existsSync(`/usr/lib/${cpu}-linux-gnu/libEGL_mesa.so.0`))
  ? ['--use-angle=gl-egl']
  : []

for (const part of ['renderer', 'serve', ...workParts]) await build(part)
mkdirSync(folder, { recursive: true })
const own = mkdtempSync(join(tmpdir(), 'rakelight-walk-'))
const executablePath = findBrowser()
const browser = await chromium.launch({
  ...(executablePath === null ? {} : { executablePath }),
  args: ['--use-gl=angle', ...mesa, '--ignore-gpu-blocklist', ...(isRoot() ? ['--no-sandbox'] : [])],
})
let failed = false
try {
  for (const sitting of sittings)
    if (values.only === undefined || sitting.name === values.only) await walk(sitting)
} finally {
  await browser.close()
  // A server may still be writing its last.
  rmSync(own, { recursive: true, force: true, maxRetries: 5 })
}
process.exit(failed ? 1 : 0)

/** @param {import('./walk/states.mjs').Sitting} sitting */
async function walk({ name, file, states }) {
  const home = mkdtempSync(join(own, 'home-'))
  const job = jobFor(file, join(home, 'job'))
  const server = spawn(
    execPath,
    [join(root, 'dist', 'serve', 'launch.mjs'), ...(job === undefined ? [] : [job])],
    {
      stdio: ['ignore', 'pipe', 'inherit'],
      env: { ...env, XDG_CONFIG_HOME: home, HOME: home },
    },
  )
  const page = await browser.newPage({
    viewport: { width, height },
    deviceScaleFactor: Number(values.scale),
    colorScheme: values.theme === 'dark' ? 'dark' : 'light',
    reducedMotion: 'reduce',
    hasTouch: values.touch,
  })
  try {
    // A large picture on a processor holds the page up.
    page.setDefaultTimeout(180_000)
    await page.goto(await address(server))
    for (const [i, state] of states.entries()) {
      await state.go(page)
      await page.waitForTimeout(restMs)
      const path = `${name}-${String(i + 1).padStart(2, '0')}-${state.name}.png`
      await page.screenshot({ path: join(folder, path), timeout: 120_000 })
      console.log(path)
    }
  } catch (error) {
    failed = true
    console.error(`${name}: ${error instanceof Error ? error.message : String(error)}`)
    await page.screenshot({ path: join(folder, `${name}-failed.png`), timeout: 120_000 })
  } finally {
    await page.close()
    server.kill('SIGTERM')
  }
}

/** @param {import('node:child_process').ChildProcess} server @returns {Promise<string>} */
function address(server) {
  return new Promise((resolve, reject) => {
    if (server.stdout === null) throw new Error('the server says nothing')
    createInterface({ input: server.stdout }).on('line', line => {
      const found = line.match(/http:\/\/\S+/)?.[0]
      if (found !== undefined) resolve(found)
    })
    server.once('exit', code => reject(new Error(`the server ended with status ${code}`)))
  })
}
