import { homedir } from 'node:os'
import { join } from 'node:path'
import { createHost } from './host.ts'
import { openPage } from './page.ts'
import { pageFolder, version } from './places.ts'
import { startServer } from './serve.ts'

/** Opens the app for a browser on this machine: `node dist/serve/launch.mjs [FILE]`, an absolute path. */
const host = createHost({
  kind: 'browser',
  version,
  dialogs: null,
  dataFolder: dataFolder(),
  startPath: process.argv[2] ?? null,
})
const server = await startServer(host, await openPage(pageFolder))
// The only place that shows the token: whoever started rakelight needs it to get in.
console.log(`rakelight is at ${server.address}\nPress Ctrl+C to stop it.`)

for (const signal of ['SIGINT', 'SIGTERM'] as const)
  process.once(signal, () => void server.close().then(() => process.exit(0)))

/** Where the desktop window keeps its state too, by each system's custom. */
function dataFolder(): string {
  switch (process.platform) {
    case 'win32':
      return join(process.env.APPDATA ?? join(homedir(), 'AppData', 'Roaming'), 'rakelight')
    case 'darwin':
      return join(homedir(), 'Library', 'Application Support', 'rakelight')
    default:
      return join(process.env.XDG_CONFIG_HOME ?? join(homedir(), '.config'), 'rakelight')
  }
}
