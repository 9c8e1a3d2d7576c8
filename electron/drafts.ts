import { readdir, readFile, rm } from 'node:fs/promises'
import { join } from 'node:path'
import type { Job } from '../core/job/job.ts'
import { checkJob } from '../core/job/parse.ts'
import { atomicWrite } from './atomic-write.ts'
import { makeFolder } from './write-file.ts'

/** Work that no file of the user's has yet: a job and where its parts lie. */
export interface Draft {
  readonly job: Job
  /** Absolute; null before there is any art. */
  readonly artPath: string | null
  readonly artName: string
  /** Absolute; null for a job that was never saved. */
  readonly jobPath: string | null
  /** Files of pictures, models and the print profile that were found, by what is in them. */
  readonly files: readonly { readonly sha256: string; readonly path: string }[]
  /** Milliseconds since 1970. */
  readonly savedAt: number
}

/** A draft without its job, as a list shows it. */
export interface FoundDraft {
  readonly id: string
  readonly draft: Draft
}

/** Older than this nobody comes back for it, ms. */
const keptForMs = 90 * 24 * 3600_000

/**
 * Unsaved work in the program's own data folder, so that neither a crash nor a power cut loses it and no file of the
 * user's is touched. One file a window; its name says which process wrote it.
 */
export class Drafts {
  readonly #folder: string
  /** Ids of this process, by the page's own. */
  readonly #own = new Set<string>()
  /** Writes of one draft follow one another. */
  #last: Promise<void> = Promise.resolve()

  constructor(dataFolder: string) {
    this.#folder = join(dataFolder, 'drafts')
  }

  /** Keeps the draft of a window in place of the one before. Rejects when the disk does not take it. */
  keep(id: string, draft: Draft): Promise<void> {
    this.#own.add(id)
    const write = this.#last.then(async () => {
      await makeFolder(this.#folder)
      await atomicWrite(this.#file(id, process.pid), JSON.stringify(draft))
    })
    this.#last = write.catch(() => undefined)
    return write
  }

  /** Forgets the draft of a window, or one that was found. */
  drop(id: string): Promise<void> {
    this.#own.delete(id)
    this.#last = this.#last
      .then(async () => {
        for (const one of await this.#list()) if (one.id === id) await rm(one.file, { force: true })
      })
      .catch(() => undefined)
    return this.#last
  }

  /** Forgets every draft that this process kept: all of them were saved or given up. */
  async dropOwn(): Promise<void> {
    for (const id of [...this.#own]) await this.drop(id)
  }

  /** What was left behind, the newest first: by processes that are gone, and by this window before it was loaded again. */
  async left(ownId: string): Promise<readonly FoundDraft[]> {
    await this.#last
    const found: FoundDraft[] = []
    for (const { id, pid, file } of await this.#list()) {
      if (id !== ownId && isRunning(pid)) continue
      const draft = await readDraft(file)
      // What cannot be read helps nobody, and what is old was given up.
      if (draft === null || Date.now() - draft.savedAt > keptForMs) await rm(file, { force: true })
      else found.push({ id, draft })
    }
    return found.sort((a, b) => b.draft.savedAt - a.draft.savedAt)
  }

  #file(id: string, pid: number): string {
    return join(this.#folder, `${id}.${pid}.draft.json`)
  }

  async #list() {
    const names = await readdir(this.#folder).catch(() => [] as string[])
    return names.flatMap(name => {
      const [, id, pid] = /^([A-Za-z0-9_-]{1,64})\.(\d+)\.draft\.json$/.exec(name) ?? []
      return id === undefined ? [] : [{ id, pid: Number(pid), file: join(this.#folder, name) }]
    })
  }
}

async function readDraft(file: string): Promise<Draft | null> {
  try {
    const value = JSON.parse(await readFile(file, 'utf8')) as Draft
    return {
      job: checkJob(value.job, 'the recovered job'),
      artPath: value.artPath === null ? null : String(value.artPath),
      artName: String(value.artName),
      jobPath: value.jobPath === null ? null : String(value.jobPath),
      files: value.files.map(one => ({ sha256: String(one.sha256), path: String(one.path) })),
      savedAt: Number(value.savedAt),
    }
  } catch {
    return null
  }
}

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM'
  }
}
