import { protocol, type Session } from 'electron'
import { type Page, securityHeaders } from './page.ts'

/** The page has an address of its own, so that it is one origin, and files of the disk are none of it. */
export const origin = 'rakelight://app'

/** Must run before the app is ready. */
export function registerScheme(): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: 'rakelight', privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ])
}

/** Answers `rakelight://app/…` with the built page and its policy, and nothing else. */
export function servePage(session: Session, page: Page): void {
  session.protocol.handle('rakelight', async request => {
    const url = new URL(request.url)
    const file = url.host === 'app' && request.method === 'GET' ? await page(url.pathname || '/') : null
    if (file === null) return new Response('not found', { status: 404, headers: { ...securityHeaders } })
    return new Response(file.bytes, { headers: { ...securityHeaders, 'Content-Type': file.type } })
  })
}
