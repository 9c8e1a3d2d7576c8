import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { expect } from '@playwright/test'
import type {} from '../../../renderer/host/choose.ts'
import { test } from '../../support/desktop.ts'

/** The window's rules in the real engine; the list follows Electron's own security tutorial. */

test('the page has no Node, is isolated and runs without the engine’s privileges', async ({ open }) => {
  const { app, page } = await open()
  const globals = await page.evaluate(() =>
    ['require', 'process', 'module', 'Buffer', 'global', '__dirname'].filter(name => name in window),
  )
  expect(globals).toEqual([])
  expect(await page.evaluate(() => Object.keys(window.rakelight ?? {}).sort())).toEqual([
    'adopt',
    'onCommand',
    'request',
  ])
  const preferences = await app.evaluate(({ BrowserWindow }) => {
    const [window] = BrowserWindow.getAllWindows()
    // Not in the public types; the only place where the engine says what it really applied.
    const contents = window?.webContents as unknown as { getLastWebPreferences(): Record<string, unknown> }
    return contents.getLastWebPreferences()
  })
  expect(preferences).toMatchObject({
    sandbox: true,
    contextIsolation: true,
    nodeIntegration: false,
    webSecurity: true,
    webviewTag: false,
  })
})

test('nothing reaches the network, from the page or past its policy', async ({ open }) => {
  let reached = 0
  const listener = createServer((_, response) => {
    reached++
    response.end('reached')
  })
  await new Promise<void>(resolve => listener.listen(0, '127.0.0.1', resolve))
  const address = `http://127.0.0.1:${(listener.address() as AddressInfo).port}/`
  const { app, page } = await open()

  const tried = await page.evaluate(async url => {
    const outcome = (promise: Promise<unknown>) =>
      promise.then(
        () => 'reached',
        () => 'refused',
      )
    const picture = new Image()
    const loaded = new Promise((resolve, reject) => {
      picture.onload = resolve
      picture.onerror = reject
    })
    picture.src = url
    return [
      await outcome(fetch(url, { mode: 'no-cors' })),
      await outcome(fetch('file:///etc/hostname')),
      await outcome(loaded),
    ]
  }, address)
  expect(tried).toEqual(['refused', 'refused', 'refused'])

  // The main process's own client goes through the session too, and has no page's policy.
  const past = await app.evaluate(
    ({ session }, url) =>
      session.defaultSession.fetch(url).then(
        () => 'reached',
        () => 'refused',
      ),
    address,
  )
  expect(past).toBe('refused')
  listener.close()
  expect(reached).toBe(0)
})

test('the window opens no other, goes nowhere else and is granted nothing', async ({ open }) => {
  const { app, page } = await open()
  await page.evaluate(() => {
    window.open('rakelight://app/')
    location.href = 'https://example.com/'
  })
  await page.waitForTimeout(500)
  expect(page.url()).toBe('rakelight://app/')
  expect(app.windows()).toHaveLength(1)
  expect(await page.evaluate(() => Notification.requestPermission())).toBe('denied')
  const states = await page.evaluate(() =>
    Promise.all(
      (['geolocation', 'notifications', 'midi', 'persistent-storage'] as const).map(
        async name => (await navigator.permissions.query({ name: name as PermissionName })).state,
      ),
    ),
  )
  expect(states).toEqual(['denied', 'denied', 'denied', 'denied'])
})

test('the policy stops scripts that are not the page’s own', async ({ open }) => {
  const { page } = await open()
  const ran = await page.evaluate(async () => {
    const script = document.createElement('script')
    script.textContent = 'window.injected = true'
    document.body.append(script)
    // The test driver's own call may evaluate text; what runs later may not.
    await new Promise(resolve => setTimeout(resolve, 0))
    let evaluated = false
    try {
      evaluated = new Function('return true')()
    } catch {}
    return { injected: 'injected' in window, evaluated }
  })
  expect(ran).toEqual({ injected: false, evaluated: false })
})

test('messages that the contract does not know are refused by name', async ({ open }) => {
  const { page } = await open()
  const replies = await page.evaluate(async () => [
    await window.rakelight?.request('shutdown', {}),
    await window.rakelight?.request('openJob', { fileId: '../../etc/passwd' }),
  ])
  expect(replies).toMatchObject([
    { ok: false, code: 'unknown-request' },
    { ok: false, code: 'malformed' },
  ])
})
