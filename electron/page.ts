import { readdir, readFile } from 'node:fs/promises'
import { extname, join, relative, sep } from 'node:path'

/** One file of the built page. */
export interface PageFile {
  readonly type: string
  readonly bytes: Uint8Array<ArrayBuffer>
}

/** Gives the file behind a URL path such as `/assets/main.js`, or null; `/` is the page itself. */
export type Page = (urlPath: string) => Promise<PageFile | null>

/**
 * The page built into `folder`. Its files are listed once and looked up by name, so that no path a browser
 * could send reaches another file. Rejects when the folder holds no page.
 */
export async function openPage(folder: string): Promise<Page> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true })
  const files = new Map<string, string>()
  for (const entry of entries) {
    if (!entry.isFile() || !(extname(entry.name) in types)) continue
    // Node 18 inside the desktop calls the folder `path`.
    const parent = entry.parentPath ?? (entry as unknown as { readonly path: string }).path
    const file = join(parent, entry.name)
    files.set(`/${relative(folder, file).split(sep).join('/')}`, file)
  }
  if (!files.has('/index.html'))
    throw new Error(`${folder}: expected the built page, got no index.html; run npm run build`)
  return async urlPath => {
    const file = files.get(urlPath === '/' ? '/index.html' : urlPath)
    if (file === undefined) return null
    return { type: types[extname(file)] ?? '', bytes: new Uint8Array(await readFile(file)) }
  }
}

const types: Readonly<Record<string, string>> = {
  '.html': 'text/html; charset=utf-8',
  '.js': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8',
  '.svg': 'image/svg+xml',
  '.png': 'image/png',
  '.woff2': 'font/woff2',
  '.wasm': 'application/wasm',
}

/** Sent with every answer of both shells: the page runs its own scripts, talks to its own host, and nothing else. */
export const securityHeaders: Readonly<Record<string, string>> = {
  'Content-Security-Policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "img-src 'self' blob: data:",
    "font-src 'self'",
    "connect-src 'self'",
    "worker-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Permissions-Policy':
    'camera=(), microphone=(), geolocation=(), usb=(), serial=(), bluetooth=(), hid=(), midi=(), payment=()',
  'Cache-Control': 'no-store',
}
