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

/** An application that has ended no longer says what ran it. */
interface Started {
  readonly app: ElectronApplication
  readonly process: ReturnType<ElectronApplication['process']>
}

/** Desktop tests open the built app as a user would; where there is none to open they are skipped by name. */
export const test = base.extend<{ open: (file?: string) => Promise<Desktop> }>({
  // biome-ignore lint/correctness/noEmptyPattern: Playwright reads a fixture's needs from the pattern
  open: async ({}, use) => {
    const runtime = findDesktop(root)
    test.skip(runtime === null, 'no desktop runtime')
    test.skip(!hasDisplay(), 'no display, and no xvfb-run to make one')
    const home = mkdtempSync(join(tmpdir(), 'rakelight-home-'))
    const opened: Started[] = []
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
          timeout: launchMs,
        })
      const { app, page } = await withWindow(launch)
      opened.push({ app, process: app.process() })
      return { app, page, ...watch(page) }
    })
    // A test may have ended one as a crash does.
    for (const one of opened) await end(one)
    rmSync(home, { recursive: true, force: true })
  },
})

/** An app is asked to close; one that does not within this is ended. */
const closeMs = 20_000

async function end({ app, process }: Started) {
  if (process.signalCode !== null || process.exitCode !== null) return
  const stuck = setTimeout(() => process.kill('SIGKILL'), closeMs)
  await app.close()
  clearTimeout(stuck)
}

/** Starts of the runtime at most. */
const starts = 6
/** A start that has not come to its first script within this stands still. */
const launchMs = 30_000
/** How long the driver may take to tell of a window whose page the app says is loaded. */
const toldMs = 6_000
/** The same for the app's own word; a busy machine takes its time. */
const loadedMs = 60_000

/**
 * The app with its window. The test runtime races the driver now and then: it stands still before
 * its window, or shows and loads it, yet never tells of it. Such a start is found soon, ended and made again, and said.
 */
async function withWindow(launch: () => Promise<ElectronApplication>) {
  for (let start = 1; ; start++) {
    try {
      return await firstWindow(await launch())
    } catch (error) {
      if (start === starts) throw error
      console.log(`desktop: start ${start} brought no window, starting again`)
    }
  }
}

async function firstWindow(app: ElectronApplication) {
  const told = app.firstWindow({ timeout: loadedMs + toldMs })
  const ready = loaded(app)
  const late = ready.then(() => new Promise<null>(resolve => setTimeout(resolve, toldMs, null)))
  const page = await Promise.race([told, late]).catch(() => null)
  if (page !== null) {
    // A test that leads the page elsewhere while it still loads would stop its loading, and the app with it.
    await ready
    return { app, page }
  }
  told.catch(() => undefined)
  app.process().kill('SIGKILL')
  throw Error('the runtime never told of its window')
}

/** Settles when the app's first window has loaded its page, or when it should long have. */
async function loaded(app: ElectronApplication) {
  const end = Date.now() + loadedMs
  while (Date.now() < end) {
    const done = await app
      .evaluate(({ BrowserWindow }) => {
        const contents = BrowserWindow.getAllWindows()[0]?.webContents
        return contents !== undefined && contents.getURL() !== '' && !contents.isLoading()
      })
      .catch(() => false)
    if (done) return
    await new Promise(resolve => setTimeout(resolve, 250))
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

/** The system's dialogs are outside the page: their answers are given in their place. @param saved null for none */
export async function answerDialogs(
  app: ElectronApplication,
  opened: string,
  saved: string | null,
): Promise<void> {
  await app.evaluate(
    ({ dialog }, paths) => {
      dialog.showOpenDialog = async () => ({ canceled: false, filePaths: [paths.opened] })
      dialog.showSaveDialog = async () => ({ canceled: paths.saved === null, filePath: paths.saved ?? '' })
    },
    { opened, saved },
  )
}
