// Finds a Chrome or Chromium for the tests: installed, else Playwright's own, else Debian's package.
import { spawnSync } from 'node:child_process'
import { accessSync, constants, existsSync, statSync } from 'node:fs'
import { createRequire } from 'node:module'
import { delimiter, join } from 'node:path'
import { execPath, platform } from 'node:process'
import { chromium } from '@playwright/test'
import { isRoot } from './desktop.mjs'

const variables = ['CHROME', 'CHROME_PATH', 'CHROME_BIN', 'CHROMIUM_PATH']
const names = ['google-chrome', 'google-chrome-stable', 'chromium', 'chromium-browser', 'chrome']
const fetchLimitMs = 300_000

/** What to tell whoever has no browser and no way to fetch one. */
export const browserHint =
  'Install Chrome or Chromium, or set CHROME to its program file, to run the browser tests.'

/**
 * Path of a browser that can be run, fetching one if need be; null when none can be had.
 * Throws when CHROME or one of its like names a file that cannot be run.
 * @returns {string | null}
 */
export function findBrowser() {
  return installed() ?? playwrights() ?? debians()
}

function installed() {
  for (const name of variables) {
    const file = process.env[name]
    if (!file) continue
    if (!canRun(file)) throw new Error(`${name}: expected a browser's program file, got ${file}`)
    return file
  }
  const folders = (process.env.PATH ?? '').split(delimiter)
  const onPath = names.flatMap(name => folders.map(folder => join(folder, name)))
  return [...onPath, ...usualPlaces()].find(canRun) ?? null
}

function usualPlaces() {
  const { LOCALAPPDATA, PROGRAMFILES, HOME = '' } = process.env
  if (platform === 'darwin')
    return ['', HOME].flatMap(base =>
      ['Google Chrome', 'Chromium'].map(name => `${base}/Applications/${name}.app/Contents/MacOS/${name}`),
    )
  if (platform === 'win32')
    return [PROGRAMFILES, process.env['PROGRAMFILES(X86)'], LOCALAPPDATA].flatMap(base =>
      base ? [join(base, 'Google', 'Chrome', 'Application', 'chrome.exe')] : [],
    )
  return ['/usr/bin/chromium', '/usr/bin/google-chrome', '/opt/google/chrome/chrome', '/snap/bin/chromium']
}

/** The one Playwright keeps for itself, fetched if it is not there yet. */
function playwrights() {
  const file = chromium.executablePath()
  if (!canRun(file)) {
    console.log('No Chrome or Chromium found; fetching one for the tests …')
    const cli = createRequire(import.meta.url).resolve('@playwright/test/cli')
    const args = [cli, 'install', 'chromium', '--no-shell']
    spawnSync(execPath, args, { stdio: 'ignore', timeout: fetchLimitMs, killSignal: 'SIGKILL' })
  }
  return canRun(file) && starts(file) ? file : null
}

/** On Debian, as root, the package brings the libraries too. */
function debians() {
  if (!isRoot() || !existsSync('/etc/debian_version')) return null
  const options = { stdio: /** @type {const} */ ('ignore'), timeout: fetchLimitMs }
  spawnSync('apt-get', ['update', '-q'], options)
  spawnSync('apt-get', ['install', '-q', '-y', '--no-install-recommends', 'chromium'], options)
  return canRun('/usr/bin/chromium') ? '/usr/bin/chromium' : null
}

/** A fetched browser may lack system libraries. @param {string} file */
function starts(file) {
  return spawnSync(file, ['--version'], { timeout: 20_000 }).status === 0
}

/** @param {string} file */
function canRun(file) {
  try {
    accessSync(file, constants.X_OK)
    return statSync(file).isFile()
  } catch {
    return false
  }
}
