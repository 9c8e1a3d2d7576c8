import { app, type BrowserWindow, Menu, type MenuItemConstructorOptions } from 'electron'
import type { Command } from '../core/host/bridge.ts'
import { commandChannel } from './channels.ts'

/** Sets the menu of the window; what concerns the job goes to the page, which answers to the same keys. */
export function setMenu(window: BrowserWindow): void {
  const item = (label: string, accelerator: string, command: Command): MenuItemConstructorOptions => ({
    label,
    accelerator,
    click: () => window.webContents.send(commandChannel, command),
  })
  const isMac = process.platform === 'darwin'
  const template: MenuItemConstructorOptions[] = [
    ...(isMac ? [{ role: 'appMenu' as const }] : []),
    {
      label: 'File',
      submenu: [
        item('Open…', 'CmdOrCtrl+O', 'open'),
        item('Save job', 'CmdOrCtrl+S', 'save'),
        { type: 'separator' },
        isMac ? { role: 'close' } : { role: 'quit' },
      ],
    },
    {
      label: 'Edit',
      submenu: [
        item('Undo', 'CmdOrCtrl+Z', 'undo'),
        item('Redo', isMac ? 'Shift+Cmd+Z' : 'Ctrl+Y', 'redo'),
        { type: 'separator' },
        { role: 'cut' },
        { role: 'copy' },
        { role: 'paste' },
        { role: 'selectAll' },
      ],
    },
    {
      label: 'View',
      submenu: [
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
        ...(app.isPackaged ? [] : [{ role: 'toggleDevTools' as const }]),
      ],
    },
  ]
  Menu.setApplicationMenu(Menu.buildFromTemplate(template))
}
