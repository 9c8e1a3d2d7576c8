import { extname } from 'node:path'
import { type BrowserWindow, dialog, type FileFilter } from 'electron'
import type { Dialogs } from './shell.ts'

const artEndings = ['psd', 'psb', 'pdf', 'svg', 'tif', 'tiff', 'png', 'jpg', 'jpeg']
const art: FileFilter = { name: 'Art', extensions: artEndings }
const job: FileFilter = { name: 'Job', extensions: ['json'] }
const picture: FileFilter = { name: 'PNG pictures', extensions: ['png'] }
const model: FileFilter = { name: 'Models', extensions: ['glb', 'gltf'] }
const profile: FileFilter = { name: 'ICC profiles', extensions: ['icc', 'icm'] }
const notes: FileFilter = { name: 'Notes', extensions: ['json'] }
const either: FileFilter = { name: 'Art and jobs', extensions: [...artEndings, 'json'] }

/** The system's own file dialogs, over the window. */
export function desktopDialogs(window: BrowserWindow): Dialogs {
  const filters = { art: [art], job: [job], any: [either, art, job], profile: [profile], notes: [notes] }
  return {
    async open(what) {
      const chosen = await dialog.showOpenDialog(window, {
        properties: ['openFile'],
        filters: filters[what],
      })
      return chosen.canceled ? null : (chosen.filePaths[0] ?? null)
    },
    async openArt(what) {
      // Only one system's dialog takes files and folders at once.
      const chosen = await dialog.showOpenDialog(
        window,
        what === 'plates'
          ? { title: 'Folder of plates', properties: ['openDirectory'] }
          : { properties: ['openFile', 'multiSelections'], filters: filters[what] },
      )
      return chosen.canceled ? [] : chosen.filePaths
    },
    async openAsset(kind) {
      const chosen = await dialog.showOpenDialog(window, {
        properties: kind === 'views' ? ['openFile', 'multiSelections'] : ['openFile'],
        filters: [kind === 'model' ? model : picture],
      })
      return chosen.canceled ? [] : chosen.filePaths
    },
    saveJob: suggested => saved(window, suggested, job),
    saveFile(suggested) {
      const ending = extname(suggested).slice(1)
      return saved(window, suggested, { name: ending.toUpperCase(), extensions: [ending] })
    },
  }
}

async function saved(window: BrowserWindow, suggested: string, filter: FileFilter): Promise<string | null> {
  const chosen = await dialog.showSaveDialog(window, {
    defaultPath: suggested,
    filters: [filter],
    properties: ['showOverwriteConfirmation', 'createDirectory'],
  })
  return chosen.canceled ? null : (chosen.filePath ?? null)
}
