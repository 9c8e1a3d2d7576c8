import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { request as httpRequest, type IncomingHttpHeaders } from 'node:http'
import { networkInterfaces, tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import type { Handlers } from '../../core/host/contract.ts'
import type { FileRef } from '../../core/host/file-ref.ts'
import { decodeWire } from '../../core/host/wire.ts'
import { openPage } from '../../electron/page.ts'
import { type Server, startServer } from '../../electron/serve.ts'
import type { HostSide } from '../../electron/shell.ts'

/**
 * The laws of a loopback server that holds a user's files: RFC 9110 (Host, status codes), RFC 6454 (Origin),
 * RFC 6265bis (cookie attributes), the WHATWG Fetch metadata headers, and path traversal by CWE-22's examples.
 */

interface Answer {
  readonly status: number
  readonly headers: IncomingHttpHeaders
  readonly body: Buffer
}

let folder: string
let server: Server
let adopted: { path: string; name: string | undefined; origin: string | undefined; bytes: Buffer }[]
let port: number
let cookie: string

const about = { version: '1', shell: 'browser', files: 'upload', start: null } as const

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-serve-'))
  mkdirSync(join(folder, 'page', 'assets'), { recursive: true })
  writeFileSync(join(folder, 'page', 'index.html'), '<!doctype html><title>page</title>')
  writeFileSync(join(folder, 'page', 'assets', 'main.js'), 'export {}')
  writeFileSync(join(folder, 'page', '.stamp'), 'secret')
  writeFileSync(join(folder, 'secret.html'), 'secret')
  adopted = []
  server = await startServer(fakeHost(), await openPage(join(folder, 'page')))
  port = Number(new URL(server.address).port)
  const opened = await ask('GET', server.address.slice(server.address.indexOf('/?')), {}, '', { bare: true })
  cookie = String(opened.headers['set-cookie']).split(';')[0] ?? ''
})

afterEach(async () => {
  await server.close()
  rmSync(folder, { recursive: true, force: true })
})

function fakeHost(): HostSide {
  const handlers = {
    about: async () => about,
    recent: async () => {
      throw Object.assign(new Error('the recent list is torn'), { code: 'torn' })
    },
    preview: async () => ({ width: 1, height: 1, rgba: new Uint8Array([1, 2, 3, 4]) }),
  } as unknown as Handlers
  return {
    handlers,
    async adopt(path, name, origin): Promise<FileRef> {
      adopted.push({ path, name, origin, bytes: readFileSync(path) })
      return { id: 'a1', name: name ?? '', kind: 'art' }
    },
    close: async () => undefined,
  }
}

/** A request as any program could send it; `bare` leaves out what our own page would bring along. */
function ask(
  method: string,
  path: string,
  headers: Record<string, string> = {},
  body: string | Buffer = '',
  { bare = false } = {},
): Promise<Answer> {
  const own = bare ? {} : { Cookie: cookie, Origin: `http://127.0.0.1:${port}` }
  const given = { ...own, ...(method === 'POST' ? { 'Content-Type': 'application/json' } : {}), ...headers }
  return new Promise((resolve, reject) => {
    const sent = httpRequest(
      { host: '127.0.0.1', port: new URL(server.address).port, method, path, headers: given },
      response => {
        const chunks: Buffer[] = []
        response.on('data', chunk => chunks.push(chunk))
        response.on('end', () =>
          resolve({
            status: response.statusCode ?? 0,
            headers: response.headers,
            body: Buffer.concat(chunks),
          }),
        )
      },
    )
    sent.on('error', reject)
    sent.end(body)
  })
}

const reply = (answer: Answer): unknown => decodeWire(new Uint8Array(answer.body))

describe('the way in', () => {
  it('gives the page and the handlers to a browser that came by the address', async () => {
    expect(String((await ask('GET', '/')).body)).toContain('<title>page</title>')
    expect(reply(await ask('POST', '/request/about', {}, '{}'))).toEqual({ ok: true, value: about })
  })

  it('trades the token for a cookie that scripts and other sites cannot use, and leaves the address', async () => {
    const token = server.address.slice(server.address.indexOf('/?'))
    const opened = await ask('GET', token, {}, '', { bare: true })
    expect(opened.status).toBe(303)
    expect(opened.headers.location).toBe('/')
    expect(String(opened.headers['set-cookie'])).toMatch(/; HttpOnly; SameSite=Strict; Path=\/$/)
  })

  it('changes the token with every start and makes it too long to guess', async () => {
    const other = await startServer(fakeHost(), await openPage(join(folder, 'page')))
    const tokens = [server, other].map(one => new URL(one.address).searchParams.get('token') ?? '')
    await other.close()
    expect(tokens[0]).not.toBe(tokens[1])
    // 128 bits are common practice; base64url carries 6 bits a character.
    for (const token of tokens) expect(token.length * 6).toBeGreaterThanOrEqual(128)
  })
})

describe('turned away with 403', () => {
  const good = '{}'
  it.each([
    ['no cookie', { Cookie: '' }],
    ['another cookie', { Cookie: 'rakelight-1=x' }],
    ['a rebound name', { Host: 'attacker.example' }],
    ['localhost, whose cookies others share', { Host: 'localhost' }],
    ['another page', { Origin: 'http://attacker.example' }],
    ['another port of this machine', { Origin: 'http://127.0.0.1:1' }],
    ['an opaque origin', { Origin: 'null' }],
    ['a cross-site fetch', { 'Sec-Fetch-Site': 'cross-site' }],
    ['a same-site fetch from another port', { 'Sec-Fetch-Site': 'same-site' }],
  ])('%s, for requests, uploads and the page alike', async (_, headers) => {
    for (const [method, path] of [
      ['POST', '/request/about'],
      ['POST', '/adopt?name=a.psd'],
      ['GET', '/'],
    ] as const) {
      const answer = await ask(
        method,
        path,
        headers as unknown as Record<string, string>,
        method === 'GET' ? '' : good,
      )
      expect(answer.status, `${method} ${path}`).toBe(403)
    }
    expect(adopted).toEqual([])
  })

  it('a cookie off by its last character', async () => {
    const last = cookie.at(-1) === 'A' ? 'B' : 'A'
    expect((await ask('GET', '/', { Cookie: cookie.slice(0, -1) + last })).status).toBe(403)
  })

  it('a POST without Origin', async () => {
    const answer = await ask('POST', '/request/about', { Cookie: cookie }, good, { bare: true })
    expect(answer.status).toBe(403)
  })

  it('a wrong token, and the right one at another name', async () => {
    expect((await ask('GET', '/?token=x', {}, '', { bare: true })).status).toBe(403)
    const token = server.address.slice(server.address.indexOf('/?'))
    const rebound = await ask('GET', token, { Host: 'attacker.example' }, '', { bare: true })
    expect(rebound.status).toBe(403)
    expect(rebound.headers['set-cookie']).toBeUndefined()
  })
})

describe('requests', () => {
  it('are parsed: unknown names and malformed input come back as replies', async () => {
    expect(reply(await ask('POST', '/request/shutdown', {}, '{}'))).toMatchObject({ code: 'unknown-request' })
    expect(reply(await ask('POST', '/request/constructor', {}, '{}'))).toMatchObject({
      code: 'unknown-request',
    })
    expect(reply(await ask('POST', '/request/chooseFile', {}, '{"what":"disk"}'))).toMatchObject({
      ok: false,
      code: 'malformed',
    })
  })

  it('that fail answer with their code and message, without a stack', async () => {
    const answer = await ask('POST', '/request/recent', {}, '{}')
    expect(reply(answer)).toEqual({ ok: false, code: 'torn', message: 'the recent list is torn' })
    expect(String(answer.body)).not.toContain('.ts:')
  })

  it.each([
    ['another type', { 'Content-Type': 'text/plain' }, '{}', 415],
    ['what is not JSON', {}, '{', 400],
    ['more than a megabyte', {}, Buffer.alloc(2 ** 20 + 1, 32), 413],
  ])('refuse %s', async (_, headers, body, status) => {
    const answer = await ask('POST', '/request/about', headers as Record<string, string>, body)
    expect(answer.status).toBe(status)
  })

  it('refuse a body without length once it grows too long', async () => {
    const headers = { 'Transfer-Encoding': 'chunked' }
    const answer = await ask('POST', '/request/about', headers, Buffer.alloc(2 ** 20 + 1, 32))
    expect(answer.status).toBe(413)
  })

  it('refuse other methods', async () => {
    for (const method of ['PUT', 'DELETE', 'OPTIONS', 'HEAD'])
      expect((await ask(method, '/')).status, method).toBe(405)
  })
})

describe('the page', () => {
  // Encodings of ../ from CWE-22, CWE-23 and CWE-35.
  it.each([
    '/../secret.html',
    '/%2e%2e/secret.html',
    '/..%2fsecret.html',
    '/..%5csecret.html',
    '/....//secret.html',
    '/assets/../../secret.html',
    '/%252e%252e/secret.html',
    '//secret.html',
    '/.stamp',
    '/index.html%00.js',
    '/assets/',
    '/no-such.js',
  ])('is all that can be read: %s is not found', async path => {
    const answer = await ask('GET', path)
    expect(answer.status).toBe(404)
    expect(String(answer.body)).not.toContain('secret')
  })

  it('is sent with its type and a policy that allows own scripts only', async () => {
    const { headers } = await ask('GET', '/assets/main.js')
    expect(headers['content-type']).toBe('text/javascript; charset=utf-8')
    const policy = String(headers['content-security-policy'])
    expect(policy).toContain("default-src 'none'")
    expect(policy).toMatch(/script-src 'self'(;|$)/)
    expect(policy).toMatch(/connect-src 'self'(;|$)/)
    expect(policy).not.toMatch(/unsafe|http|\*/)
    expect(headers['x-content-type-options']).toBe('nosniff')
  })

  it('sends that policy with refusals too', async () => {
    expect((await ask('GET', '/', { Cookie: '' })).headers['content-security-policy']).toContain('none')
  })
})

describe('uploads', () => {
  it('reach the handlers as a file with the bytes sent, under the name alone', async () => {
    const bytes = Buffer.from(Array.from({ length: 3_000_000 }, (_, i) => (i * 31) % 251))
    const answer = await ask('POST', '/adopt?name=..%2F..%2Fstar%20chart.psd', {}, bytes)
    expect(reply(answer)).toEqual({ ok: true, value: { id: 'a1', name: 'star chart.psd', kind: 'art' } })
    expect(adopted[0]?.bytes.equals(bytes)).toBe(true)
    expect(adopted[0]?.origin).toBe('upload')
    expect(dirname(dirname(dirname(adopted[0]?.path ?? '')))).toBe(tmpdir())
  })

  it('are removed when the server closes', async () => {
    await ask('POST', '/adopt?name=a.psd', {}, 'x')
    const path = adopted[0]?.path ?? ''
    expect(existsSync(path)).toBe(true)
    const other = await startServer(fakeHost(), await openPage(join(folder, 'page')))
    await server.close()
    expect(existsSync(path)).toBe(false)
    server = other
  })
})

describe('the server', () => {
  it('listens on the loopback address only', async () => {
    const outside = Object.values(networkInterfaces())
      .flatMap(list => list ?? [])
      .find(one => one.family === 'IPv4' && !one.internal)
    const others = ['127.0.0.2', ...(outside ? [outside.address] : [])]
    for (const host of others)
      await expect(
        fetch(`http://${host}:${port}/`, { signal: AbortSignal.timeout(3000) }),
        host,
      ).rejects.toThrow()
  })

  it('writes its token nowhere', async () => {
    const said = [vi.spyOn(console, 'log'), vi.spyOn(console, 'error'), vi.spyOn(console, 'warn')]
    const written = [vi.spyOn(process.stdout, 'write'), vi.spyOn(process.stderr, 'write')]
    const token = new URL(server.address).searchParams.get('token') ?? ''
    await ask('GET', `/?token=${token}`, { Host: 'attacker.example' })
    await ask('POST', '/request/recent', {}, '{}')
    await ask('POST', '/request/about', {}, '{')
    const lines = [...said, ...written].flatMap(spy => spy.mock.calls.flat().map(String))
    vi.restoreAllMocks()
    expect(lines.filter(line => line.includes(token))).toEqual([])
  })
})
