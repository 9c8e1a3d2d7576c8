import { type ChildProcess, spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { test as base, type Page } from '@playwright/test'
import { type Desktop, watch } from './desktop.ts'

const launcher = fileURLToPath(new URL('../../dist/serve/launch.mjs', import.meta.url))

export interface Served extends Omit<Desktop, 'app'> {
  /** `http://127.0.0.1:<port>` */
  readonly origin: string
  /** With the token. */
  readonly address: string
  /** The user's folder for settings, as the server sees it. */
  readonly home: string
  /** Ends the server as a crash would. */
  kill(): Promise<void>
}

/** Browser tests open the built app by the address that its loopback server prints. */
export const test = base.extend<{ open: (file?: string) => Promise<Served> }>({
  open: async ({ page }, use) => {
    const home = mkdtempSync(join(tmpdir(), 'rakelight-home-'))
    const running: ChildProcess[] = []
    await use(async file => {
      const child = spawn(process.execPath, [launcher, ...(file === undefined ? [] : [file])], {
        stdio: ['ignore', 'pipe', 'inherit'],
        env: { ...process.env, XDG_CONFIG_HOME: home, HOME: home },
      })
      running.push(child)
      const address = await printedAddress(child)
      const watched = watch(page)
      await page.goto(address)
      const kill = async () => {
        const gone = new Promise(resolve => child.once('exit', resolve))
        child.kill('SIGKILL')
        await gone
      }
      return { page, address, origin: new URL(address).origin, home, kill, ...watched }
    })
    for (const child of running) await stop(child)
    rmSync(home, { recursive: true, force: true })
  },
})

function printedAddress(child: ChildProcess): Promise<string> {
  return new Promise((resolve, reject) => {
    createInterface({ input: child.stdout! }).on('line', line => {
      const address = line.match(/http:\/\/\S+/)?.[0]
      if (address !== undefined) resolve(address)
    })
    child.once('exit', code => reject(new Error(`the server ended with status ${code}`)))
  })
}

async function stop(child: ChildProcess): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return
  const gone = new Promise(resolve => child.once('exit', resolve))
  child.kill('SIGTERM')
  await gone
}

/** How many colours the canvas shows, counted on its screenshot. */
export async function coloursOf(page: Page, selector = '.picture canvas'): Promise<number> {
  const shot = await page.locator(selector).first().screenshot()
  // Decoded by the page itself, in memory; its policy allows data: pictures.
  return page.evaluate(
    async address => {
      const picture = new Image()
      picture.src = address
      await picture.decode()
      const canvas = new OffscreenCanvas(picture.width, picture.height)
      const context = canvas.getContext('2d')
      if (context === null) throw new Error('no 2D context')
      context.drawImage(picture, 0, 0)
      const { data } = context.getImageData(0, 0, picture.width, picture.height)
      return new Set(new Uint32Array(data.buffer)).size
    },
    `data:image/png;base64,${shot.toString('base64')}`,
  )
}
