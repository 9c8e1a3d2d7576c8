import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('../gpu/movie/', import.meta.url))
const outDir = fileURLToPath(new URL('../../dist/gpu/movie/', import.meta.url))

/** Builds the page that makes movies as the window does, and serves it, workers and late parts with it. */
export async function serveMoviePage(): Promise<{
  readonly address: string
  readonly close: () => Promise<void>
}> {
  const vite = await import('vite')
  await vite.build({
    root,
    base: './',
    configFile: false,
    logLevel: 'warn',
    build: { target: 'chrome114', outDir, emptyOutDir: true, chunkSizeWarningLimit: 4000 },
  })
  const server = await vite.preview({
    root,
    configFile: false,
    logLevel: 'warn',
    build: { outDir },
    preview: { host: '127.0.0.1', port: 0 },
  })
  const at = server.httpServer.address()
  if (at === null || typeof at === 'string') throw new Error('the page is not served')
  return { address: `http://127.0.0.1:${at.port}/`, close: () => server.close() }
}
