import { randomBytes } from 'node:crypto'
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { dispatch } from '../core/host/dispatch.ts'
import type { Reply } from '../core/host/reply.ts'
import { encodeWire } from '../core/host/wire.ts'
import { admit, cookieHeader, opensWith } from './admit.ts'
import { body } from './body.ts'
import { type Page, securityHeaders } from './page.ts'
import type { HostSide } from './shell.ts'
import { openInbox } from './upload.ts'

/** Longest request other than an upload, bytes. A job is a few kilobytes. */
const requestLimit = 1 << 20

export interface Server {
  /** The address that lets a browser in. It holds the token: show it to the user, write it nowhere. */
  readonly address: string
  close(): Promise<void>
}

/**
 * The page and the handlers over HTTP, for this machine only: 127.0.0.1, a port of the system's choice, and a
 * token that changes with every start. The opening address trades the token for a cookie; from then on every
 * request must bring that cookie, and the right Host and Origin.
 */
export async function startServer(host: HostSide, page: Page): Promise<Server> {
  const token = randomBytes(32).toString('base64url')
  const inbox = await openInbox()
  const server = createServer((request, response) => {
    answer(request, response).catch(error => {
      const [status, message] = error instanceof Refused ? [error.status, error.message] : [500, 'failed']
      send(response, status, 'text/plain; charset=utf-8', message)
    })
  })
  // An upload of some gigabytes takes longer than the five minutes Node gives a request.
  server.requestTimeout = 3600_000
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject)
    server.listen(0, '127.0.0.1', resolve)
  })
  const { port } = server.address() as AddressInfo

  async function answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    const url = urlOf(request, port)
    if (opensWith(request, url, port, token)) {
      response.setHeader('Set-Cookie', cookieHeader(port, token))
      response.setHeader('Location', '/')
      return send(response, 303, 'text/plain; charset=utf-8', '')
    }
    const refusal = admit(request, port, token)
    if (refusal !== null) throw new Refused(403, refusal)
    if (request.method === 'GET') return sendPage(response, await page(url.pathname))
    if (request.method !== 'POST') throw new Refused(405, 'GET or POST')
    if (url.pathname === '/adopt')
      return sendReply(response, await adopt(request, url.searchParams.get('name') ?? ''))
    if (!url.pathname.startsWith('/request/')) throw new Refused(404, 'not found')
    const name = url.pathname.slice('/request/'.length)
    return sendReply(response, await dispatch(host.handlers, name, await readJson(request)))
  }

  async function adopt(request: IncomingMessage, name: string): Promise<Reply<unknown>> {
    try {
      const file = await inbox.receive(request, name)
      return { ok: true, value: await host.adopt(file.path, file.name, 'upload') }
    } catch (error) {
      if (!(error instanceof Error)) throw error
      const code = 'code' in error ? String(error.code) : 'failed'
      return { ok: false, code, message: error.message }
    }
  }

  return {
    address: `http://127.0.0.1:${port}/?token=${token}`,
    async close() {
      server.closeAllConnections()
      await new Promise(resolve => server.close(resolve))
      await host.close()
      await inbox.close()
    },
  }
}

/** A request that is turned away; `message` goes to the browser and says nothing of what was expected. */
class Refused extends Error {
  constructor(
    readonly status: number,
    message: string,
  ) {
    super(message)
  }
}

/** The target is a path; a second slash must not turn it into another machine's name. */
function urlOf(request: IncomingMessage, port: number): URL {
  if (!request.url?.startsWith('/')) throw new Refused(400, 'not a path')
  return new URL(`http://127.0.0.1:${port}${request.url}`)
}

async function readJson(request: IncomingMessage): Promise<unknown> {
  if (request.headers['content-type'] !== 'application/json') throw new Refused(415, 'JSON only')
  const pieces: Uint8Array[] = []
  const tooLong = (): Error => new Refused(413, `at most ${requestLimit} bytes`)
  for await (const piece of body(request, requestLimit, tooLong)) pieces.push(piece)
  try {
    return JSON.parse(Buffer.concat(pieces).toString('utf8'))
  } catch {
    throw new Refused(400, 'not JSON')
  }
}

function sendReply(response: ServerResponse, reply: Reply<unknown>): void {
  send(response, 200, 'application/octet-stream', encodeWire(reply))
}

function sendPage(response: ServerResponse, file: Awaited<ReturnType<Page>>): void {
  if (file === null) throw new Refused(404, 'not found')
  send(response, 200, file.type, file.bytes)
}

function send(response: ServerResponse, status: number, type: string, content: string | Uint8Array): void {
  if (response.headersSent) {
    response.destroy()
    return
  }
  // What is left of a body that nobody read must not be taken for the next request.
  const unread = response.req.complete ? {} : { Connection: 'close' }
  response.writeHead(status, {
    ...securityHeaders,
    ...unread,
    'Content-Type': type,
    'Content-Length': Buffer.byteLength(content),
  })
  response.end(content)
}
