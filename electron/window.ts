import { BrowserWindow, dialog } from 'electron'
import { lockContents } from './lock.ts'
import { preloadFile } from './places.ts'

/** The one window, locked, not yet loaded; shown once there is something to see. */
export function openWindow(): BrowserWindow {
  const window = new BrowserWindow({
    width: 1440,
    height: 900,
    minWidth: 900,
    minHeight: 600,
    show: false,
    backgroundColor: '#7b7b7b',
    webPreferences: {
      preload: preloadFile,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webviewTag: false,
      navigateOnDragDrop: false,
      // The engine would fetch word lists.
      spellcheck: false,
    },
  })
  lockContents(window.webContents)
  window.once('ready-to-show', () => window.show())
  // The page says that work is unsaved; the desktop engine shows no question of its own.
  window.webContents.on('will-prevent-unload', event => {
    if (leaveAnyway(window)) event.preventDefault()
  })
  return window
}

function leaveAnyway(window: BrowserWindow): boolean {
  const answer = dialog.showMessageBoxSync(window, {
    type: 'question',
    message: 'Close without saving the job?',
    detail: 'What you changed since the last save will be lost.',
    buttons: ['Keep working', 'Close without saving'],
    defaultId: 0,
    cancelId: 0,
  })
  return answer === 1
}
