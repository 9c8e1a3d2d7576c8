import { timingSafeEqual } from 'node:crypto'
import type { IncomingMessage } from 'node:http'

/**
 * Why a request is turned away, or null when it may pass. It must come to our own name (a rebound DNS name has
 * another Host), from our own page (another site's page has another Origin), with the cookie that only the
 * opening address gives out.
 */
export function admit(request: IncomingMessage, port: number, token: string): string | null {
  const { headers } = request
  if (headers.host !== `127.0.0.1:${port}`) return 'wrong Host'
  if (isForeign(request, port)) return 'wrong Origin'
  if (!same(cookie(headers.cookie, cookieName(port)), token))
    return 'open rakelight by the address it printed when it started'
  return null
}

/** Whether the request is the opening address: the token, at our own name, not sent by another page's script. */
export function opensWith(request: IncomingMessage, url: URL, port: number, token: string): boolean {
  return (
    request.method === 'GET' &&
    url.pathname === '/' &&
    request.headers.host === `127.0.0.1:${port}` &&
    request.headers.origin === undefined &&
    same(url.searchParams.get('token'), token)
  )
}

/** Ports share cookies, so the port is in the name: two running hosts must not put each other out. */
export function cookieHeader(port: number, token: string): string {
  return `${cookieName(port)}=${token}; HttpOnly; SameSite=Strict; Path=/`
}

const cookieName = (port: number): string => `rakelight-${port}`

/** Browsers leave Origin out of plain GETs; there Sec-Fetch-Site tells, and old ones bring neither. */
function isForeign({ method, headers }: IncomingMessage, port: number): boolean {
  const { origin, 'sec-fetch-site': site } = headers
  if (origin !== undefined ? origin !== `http://127.0.0.1:${port}` : method !== 'GET') return true
  return site !== undefined && site !== 'same-origin' && site !== 'none'
}

function cookie(header: string | undefined, name: string): string | null {
  const found = header?.split(/;\s*/).find(pair => pair.startsWith(`${name}=`))
  return found?.slice(name.length + 1) ?? null
}

/** In constant time, so that a guess learns nothing from how long its refusal took. */
function same(given: string | null, token: string): boolean {
  if (given === null) return false
  const a = Buffer.from(given)
  const b = Buffer.from(token)
  return a.length === b.length && timingSafeEqual(a, b)
}
