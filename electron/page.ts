import { readdir, readFile } from 'node:fs/promises'
import { extname, join } from 'node:path'

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
  const files = new Map<string, string>()
  await list(folder, '', files)
  if (!files.has('/index.html'))
    throw new Error(`${folder}: expected the built page, got no index.html; run npm run build`)
  return async urlPath => {
    const file = files.get(urlPath === '/' ? '/index.html' : urlPath)
    if (file === undefined) return null
    return { type: types[extname(file)] ?? '', bytes: new Uint8Array(await readFile(file)) }
  }
}

/** Adds every file of a known type below `folder` under its URL path; Node 18 has no recursive listing yet. */
async function list(folder: string, urlPath: string, files: Map<string, string>): Promise<void> {
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name)
    if (entry.isDirectory()) await list(path, `${urlPath}/${entry.name}`, files)
    else if (entry.isFile() && extname(entry.name) in types) files.set(`${urlPath}/${entry.name}`, path)
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
