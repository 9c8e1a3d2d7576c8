import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { _electron, test as base, type ElectronApplication, type Page } from '@playwright/test'
import { findDesktop, hasDisplay, isRoot } from '../../scripts/find/desktop.mjs'
import { backend } from './gl.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))

export interface Desktop {
  readonly app: ElectronApplication
  readonly page: Page
  /** Console errors and uncaught errors of the page so far. */
  readonly errors: readonly string[]
  /** Every address the page asked for so far. */
  readonly requested: readonly string[]
}

/** Desktop tests open the built app as a user would; where there is none to open they are skipped by name. */
export const test = base.extend<{ open: (file?: string) => Promise<Desktop> }>({
  // biome-ignore lint/correctness/noEmptyPattern: Playwright reads a fixture's needs from the pattern
  open: async ({}, use) => {
    const runtime = findDesktop(root)
    test.skip(runtime === null, 'no desktop runtime')
    test.skip(!hasDisplay(), 'no display, and no xvfb-run to make one')
    const home = mkdtempSync(join(tmpdir(), 'rakelight-home-'))
    const opened: {
      readonly app: ElectronApplication
      readonly process: ReturnType<ElectronApplication['process']>
    }[] = []
    await use(async file => {
      const launch = () =>
        _electron.launch({
          executablePath: runtime ?? '',
          // The sandbox does not start as root, which only test machines are.
          args: [
            ...(isRoot() ? ['--no-sandbox'] : []),
            ...backend.flags,
            root,
            ...(file === undefined ? [] : [file]),
          ],
          env: { ...(process.env as Record<string, string>), XDG_CONFIG_HOME: home, HOME: home },
          timeout: 90_000,
        })
      const { app, page } = await withWindow(launch)
      // An application that has ended no longer says what ran it.
      opened.push({ app, process: app.process() })
      return { app, page, ...watch(page) }
    })
    // A test may have ended one as a crash does.
    for (const { app, process } of opened)
      if (process.signalCode === null && process.exitCode === null) await app.close()
    rmSync(home, { recursive: true, force: true })
  },
})

/** Starts of the runtime at most. */
const starts = 3

/**
 * The app with its window. The test runtime now and then starts without its first window being told to the driver;
 * such a start is ended and made again, and said.
 */
async function withWindow(launch: () => Promise<ElectronApplication>) {
  for (let start = 1; ; start++) {
    const app = await launch()
    try {
      return { app, page: await app.firstWindow({ timeout: 40_000 }) }
    } catch (error) {
      app.process().kill('SIGKILL')
      if (start === starts) throw error
      console.log(`desktop: start ${start} brought no window, starting again`)
    }
  }
}

/** Collects what a page must not do. */
export function watch(page: Page): Pick<Desktop, 'errors' | 'requested'> {
  const errors: string[] = []
  const requested: string[] = []
  page.on('console', message => {
    if (message.type() === 'error') errors.push(message.text())
  })
  page.on('pageerror', error => errors.push(String(error)))
  page.on('request', request => requested.push(request.url()))
  return { errors, requested }
}
