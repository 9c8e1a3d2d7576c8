import { beforeEach, describe, expect, it, vi } from 'vitest'
import type { Handlers } from '../../core/host/contract.ts'
import { answerRequests } from '../../electron/ipc.ts'
import { lockContents, lockSession } from '../../electron/lock.ts'
import type { HostSide } from '../../electron/shell.ts'

/**
 * The window's rules with the desktop engine played by a double, so that each can be broken on purpose; the
 * end-to-end tests see the same rules hold in the real engine. The list follows Electron's security tutorial
 * (items 5, 13, 14 and 17: permissions, navigation, new windows, sender of every message).
 */

type Answer = (event: unknown, ...given: unknown[]) => Promise<unknown>
const handles = new Map<string, Answer>()

vi.mock('electron', () => ({
  app: { commandLine: { appendSwitch: () => undefined } },
  ipcMain: { handle: (channel: string, answer: Answer) => handles.set(channel, answer) },
  protocol: {},
}))

const mainFrame = { url: 'rakelight://app/' }
const contents = { mainFrame }
const window = { webContents: contents }
const ours = { sender: contents, senderFrame: mainFrame }
const adopted: unknown[] = []

beforeEach(() => {
  handles.clear()
  adopted.length = 0
  const host: HostSide = {
    handlers: { recent: async () => [{ id: 'r1', name: 'comet.psd', kind: 'art' }] } as unknown as Handlers,
    adopt: async path => {
      adopted.push(path)
      if (path.endsWith('.txt')) throw Object.assign(new Error('comet.txt: is no art'), { code: 'not-art' })
      return { id: 'a1', name: 'comet.psd', kind: 'art' }
    },
    close: async () => undefined,
  }
  answerRequests(window as never, host)
})

function send(channel: string, event: unknown, ...given: unknown[]): Promise<unknown> {
  const answer = handles.get(channel)
  if (answer === undefined) throw new Error(`nothing answers ${channel}`)
  return answer(event, ...given)
}

describe('a message', () => {
  it('of the page itself is answered', async () => {
    expect(await send('rakelight:request', ours, 'recent', {})).toEqual({
      ok: true,
      value: [{ id: 'r1', name: 'comet.psd', kind: 'art' }],
    })
  })

  it.each([
    ['another window', { sender: { mainFrame }, senderFrame: mainFrame }],
    ['a frame inside the page', { sender: contents, senderFrame: { url: 'rakelight://app/' } }],
    ['a frame that is gone', { sender: contents, senderFrame: null }],
    ['a web page', frameAt('https://attacker.example/')],
    ['a file', frameAt('file:///home/user/page.html')],
    ['an address that only starts alike', frameAt('rakelight://app.attacker.example/')],
  ])('of %s is refused on every channel', async (_, event) => {
    for (const [channel, given] of [
      ['rakelight:request', ['recent', {}]],
      ['rakelight:adopt', ['/home/user/comet.psd']],
    ] as const)
      expect(await send(channel, event, ...given)).toMatchObject({ ok: false, code: 'refused' })
    expect(adopted).toEqual([])
  })

  it.each([
    ['an unknown name', ['shutdown', {}], 'unknown-request'],
    ['a name that every object has', ['toString', {}], 'unknown-request'],
    ['no name', [undefined, {}], 'unknown-request'],
    ['a name that is no text', [{ toString: () => 'recent' }, {}], 'unknown-request'],
    ['malformed input', ['openJob', { fileId: '../../etc/passwd' }], 'malformed'],
  ])('with %s is answered with its fault', async (_, given, code) => {
    expect(await send('rakelight:request', ours, ...given)).toMatchObject({ ok: false, code })
  })

  it.each([[''], [undefined], [42], [{ path: '/x' }], ['x'.repeat(40_000)]])(
    'adopting %o, which is no path, reaches no handler',
    async path => {
      expect(await send('rakelight:adopt', ours, path)).toMatchObject({ ok: false, code: 'no-path' })
      expect(adopted).toEqual([])
    },
  )

  it('whose handler fails is answered with the code and the message', async () => {
    expect(await send('rakelight:adopt', ours, '/home/user/comet.txt')).toEqual({
      ok: false,
      code: 'not-art',
      message: 'comet.txt: is no art',
    })
  })
})

function frameAt(url: string): unknown {
  const frame = { url }
  return { sender: { ...contents, mainFrame: frame }, senderFrame: frame }
}

describe('the session', () => {
  it.each([
    ['rakelight://app/', false],
    ['rakelight://app/assets/main.js', false],
    ['blob:rakelight://app/2f1c', false],
    ['data:image/png;base64,AA', false],
    ['https://example.com/', true],
    ['http://127.0.0.1:8080/', true],
    ['ws://127.0.0.1/', true],
    ['file:///etc/passwd', true],
    ['rakelight://app.attacker.example/', true],
    ['blob:https://example.com/1', true],
    ['ftp://rakelight://app/', true],
  ])('asked for %s: cancelled is %s', (url, cancelled) => {
    const session = playedSession()
    lockSession(session as never)
    const answers: unknown[] = []
    session.webRequest.listener?.({ url }, answer => answers.push(answer))
    expect(answers).toEqual([{ cancel: cancelled }])
  })

  it('grants no permission and saves no download', () => {
    const session = playedSession()
    lockSession(session as never)
    const answers: boolean[] = []
    session.request?.({}, 'geolocation', answer => answers.push(answer))
    expect(answers).toEqual([false])
    expect(session.check?.()).toBe(false)
    expect(session.device?.()).toBe(false)
    expect(prevented(session.events.get('will-download'))).toBe(true)
  })
})

describe('the window', () => {
  it('opens no other, goes nowhere else and embeds nothing', () => {
    const events = new Map<string, (event: object) => void>()
    let opening: (() => unknown) | undefined
    lockContents({
      setWindowOpenHandler: (answer: () => unknown) => {
        opening = answer
      },
      on: (name: string, listener: (event: object) => void) => events.set(name, listener),
      setWebRTCIPHandlingPolicy: () => undefined,
    } as never)
    expect(opening?.()).toEqual({ action: 'deny' })
    for (const name of ['will-navigate', 'will-redirect', 'will-attach-webview'])
      expect(prevented(events.get(name)), name).toBe(true)
  })
})

function playedSession() {
  return {
    events: new Map<string, (event: object) => void>(),
    request: undefined as ((c: object, p: string, answer: (granted: boolean) => void) => void) | undefined,
    check: undefined as (() => boolean) | undefined,
    device: undefined as (() => boolean) | undefined,
    webRequest: {
      listener: undefined as ((details: { url: string }, answer: (a: object) => void) => void) | undefined,
      onBeforeRequest(listener: (details: { url: string }, answer: (a: object) => void) => void) {
        this.listener = listener
      },
    },
    setPermissionRequestHandler(handler: (c: object, p: string, answer: (granted: boolean) => void) => void) {
      this.request = handler
    },
    setPermissionCheckHandler(handler: () => boolean) {
      this.check = handler
    },
    setDevicePermissionHandler(handler: () => boolean) {
      this.device = handler
    },
    on(name: string, listener: (event: object) => void) {
      this.events.set(name, listener)
    },
  }
}

function prevented(listener: ((event: object) => void) | undefined): boolean {
  let stopped = false
  listener?.({
    preventDefault: () => {
      stopped = true
    },
  })
  return stopped
}
