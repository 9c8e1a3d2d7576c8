import { type ChildProcess, spawn } from 'node:child_process'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { expect, test } from '@playwright/test'

const root = fileURLToPath(new URL('../../..', import.meta.url))

let child: ChildProcess | undefined

test.afterEach(async () => {
  if (child === undefined || child.exitCode !== null) return
  const gone = new Promise(resolve => child?.once('exit', resolve))
  child.kill('SIGTERM')
  await gone
})

test('npm start without a display says so in one sentence and opens the same app for a browser', async ({
  page,
}) => {
  const { DISPLAY: _, WAYLAND_DISPLAY: __, ...environment } = process.env
  child = spawn(process.execPath, ['scripts/start.mjs'], {
    cwd: root,
    env: environment,
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  const lines: string[] = []
  const address = await new Promise<string>((resolve, reject) => {
    createInterface({ input: child!.stdout! }).on('line', line => {
      lines.push(line)
      const found = line.match(/http:\/\/127\.0\.0\.1:\d+\/\S+/)
      if (found !== null) resolve(found[0])
    })
    child!.once('exit', code => reject(new Error(`npm start ended with status ${code}`)))
  })
  expect(lines[0]).toBe('This session has no display, so rakelight opens in a browser instead.')
  await page.goto(address)
  await expect(page.getByRole('button', { name: 'Open art or a job' })).toBeVisible()
  expect(page.url(), 'the token does not stay in the address').not.toContain('token')
})
