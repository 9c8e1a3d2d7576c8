import { type BrowserWindow, type IpcMainInvokeEvent, ipcMain } from 'electron'
import * as v from 'valibot'
import { dispatch } from '../core/host/dispatch.ts'
import type { FileRef } from '../core/host/file-ref.ts'
import type { Reply } from '../core/host/reply.ts'
import { adoptChannel, requestChannel } from './channels.ts'
import { origin } from './scheme.ts'
import type { HostSide } from './shell.ts'

/** Answers the window's messages. Each is checked for its sender, then parsed; none ever throws. */
export function answerRequests(window: BrowserWindow, host: HostSide): void {
  const checked =
    (answer: (...given: unknown[]) => Promise<Reply<unknown>>) =>
    (event: IpcMainInvokeEvent, ...given: unknown[]): Promise<Reply<unknown>> =>
      isOurs(event, window) ? answer(...given) : Promise.resolve(refused)
  ipcMain.handle(
    requestChannel,
    checked((name, input) => dispatch(host.handlers, typeof name === 'string' ? name : '', input)),
  )
  ipcMain.handle(
    adoptChannel,
    checked(path => adopt(host, path)),
  )
}

const refused: Reply<never> = { ok: false, code: 'refused', message: 'not a message of this window' }

/** From the page itself, in the window itself, in its top frame. */
function isOurs(event: IpcMainInvokeEvent, window: BrowserWindow): boolean {
  const { sender, senderFrame } = event
  return (
    sender === window.webContents &&
    senderFrame !== null &&
    senderFrame === sender.mainFrame &&
    senderFrame.url.startsWith(`${origin}/`)
  )
}

/** A path from the preload script. It is empty for a drop that is no file of this disk. */
async function adopt(host: HostSide, path: unknown): Promise<Reply<FileRef>> {
  const parsed = v.safeParse(v.pipe(v.string(), v.minLength(1), v.maxLength(32_768)), path)
  if (!parsed.success)
    return {
      ok: false,
      code: 'no-path',
      message: 'the drop: it is not a file on this disk. Save it first, then drop the saved file',
    }
  try {
    return { ok: true, value: await host.adopt(parsed.output) }
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'failed'
    return { ok: false, code, message: error instanceof Error ? error.message : String(error) }
  }
}
