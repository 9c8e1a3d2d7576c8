import type { FileRef } from './file-ref.ts'
import type { Reply } from './reply.ts'

/** What the desktop's menu asks of the page. */
export const commands = ['open', 'save', 'undo', 'redo'] as const
export type Command = (typeof commands)[number]

/** The one object that the desktop's preload script puts into the page, as `window.rakelight`. */
export interface Bridge {
  request(name: string, input: unknown): Promise<Reply<unknown>>
  /** A dropped or picked File; its path never reaches the page. */
  adopt(file: unknown): Promise<Reply<FileRef>>
  /** Calls `listener` on every menu command. */
  onCommand(listener: (command: Command) => void): void
}
