import { contextBridge, ipcRenderer, webUtils } from 'electron'
import { type Bridge, commands } from '../core/host/bridge.ts'
import { adoptChannel, commandChannel, requestChannel } from './channels.ts'

const bridge: Bridge = {
  request: (name, input) => ipcRenderer.invoke(requestChannel, name, input),
  adopt: file => ipcRenderer.invoke(adoptChannel, pathOf(file)),
  onCommand: listener =>
    void ipcRenderer.on(commandChannel, (_event, given) => {
      const command = commands.find(one => one === given)
      if (command !== undefined) listener(command)
    }),
}

contextBridge.exposeInMainWorld('rakelight', bridge)

/** Path of a dropped file; empty when it has none. Runtimes before 32 keep it on the File itself. */
function pathOf(file: unknown): string {
  if (!(file instanceof File)) return ''
  const utils: typeof webUtils | undefined = webUtils
  if (utils !== undefined) return utils.getPathForFile(file)
  return 'path' in file && typeof file.path === 'string' ? file.path : ''
}
