import { resolve } from 'node:path'
import { app, session } from 'electron'
import { desktopDialogs } from './dialogs.ts'
import { createHost } from './host.ts'
import { answerRequests } from './ipc.ts'
import { lockSession, quietNetwork } from './lock.ts'
import { setMenu } from './menu.ts'
import { openPage } from './page.ts'
import { pageFolder, version } from './places.ts'
import { registerScheme, servePage } from './scheme.ts'
import { openWindow } from './window.ts'

/** Threads that do not end within this are left to the system. */
const patienceMs = 2000

registerScheme()
quietNetwork()
app.on('window-all-closed', () => app.quit())

app
  .whenReady()
  .then(async () => {
    const window = openWindow()
    const host = createHost({
      kind: 'desktop',
      version,
      dialogs: desktopDialogs(window),
      dataFolder: app.getPath('userData'),
      startPath: startPath(),
    })
    lockSession(session.defaultSession)
    servePage(session.defaultSession, await openPage(pageFolder))
    answerRequests(window, host)
    setMenu(window)
    // Threads end first: one in the middle of its work would hold up the end of the process.
    app.once('will-quit', event => {
      event.preventDefault()
      const late = new Promise(resolve => setTimeout(resolve, patienceMs))
      void Promise.race([host.close(), late]).finally(() => app.exit())
    })
    await window.loadURL('rakelight://app/')
  })
  .catch(error => {
    console.error(`rakelight: ${error instanceof Error ? error.message : String(error)}`)
    app.exit(1)
  })

/** The first argument that is no flag; run from source, the first one is the app itself. */
function startPath(): string | null {
  const given = process.argv.slice(1).filter(argument => !argument.startsWith('-'))
  const file = given[app.isPackaged ? 0 : 1]
  return file === undefined ? null : resolve(file)
}
