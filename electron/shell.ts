import { BadInput } from '../core/base/finding.ts'
import type { Handlers } from '../core/host/contract.ts'
import type { FileRef } from '../core/host/file-ref.ts'
import type { AssetKindName } from '../core/job/asset.ts'

/** What a shell (desktop window or loopback server) gives the handlers. Paths live on this side only. */
export interface Shell {
  readonly kind: 'desktop' | 'browser'
  readonly version: string
  /** The shell's own file dialogs, or null where it has none and the page uploads and downloads. */
  readonly dialogs: Dialogs | null
  /** Folder for the recent list and other per-user state; made by whoever writes there first. */
  readonly dataFolder: string
  /** Absolute path of the file named on the command line, or null. */
  readonly startPath: string | null
}

export interface Dialogs {
  /** Absolute path of a chosen file, or null when dismissed. */
  open(what: 'art' | 'job' | 'any' | 'profile' | 'notes'): Promise<string | null>
  /** Absolute paths of art, which may be several files, of a job, or of a folder of plates; none when dismissed. */
  openArt(what: 'art' | 'any' | 'plates'): Promise<readonly string[]>
  /** Absolute paths of the files of an asset; none when dismissed. */
  openAsset(kind: AssetKindName): Promise<readonly string[]>
  /** Absolute path to save a job at, or null when dismissed; `suggested` is an absolute path or a file name. */
  saveJob(suggested: string): Promise<string | null>
  /** The same for something that goes out, of the kind that its ending says. */
  saveFile(suggested: string): Promise<string | null>
}

/** Throws BadInput where the shell has no dialogs of its own. */
export function dialogsOf(shell: Shell): Dialogs {
  if (shell.dialogs !== null) return shell.dialogs
  throw new BadInput(
    'no-dialogs',
    'this window',
    'the request',
    'has no file dialogs of its own',
    'Drop the file on the page, or download the job',
  )
}

/** What the handlers give back to the shell: `createHost(shell): HostSide` in host.ts. */
export interface HostSide {
  readonly handlers: Handlers
  /**
   * Makes a file known to the page by id: a dropped path, or an upload already on disk.
   * @param name     shown to the user; the path's last part when left out
   * @param origin   `upload`: the file lies alone in a temporary folder and has no siblings to read
   * Rejects with BadInput when it is not a readable file.
   */
  adopt(path: string, name?: string, origin?: 'path' | 'upload'): Promise<FileRef>
  /** Stops running work and closes files. */
  close(): Promise<void>
}
