import { readFile, stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { atomicWrite } from './atomic-write.ts'
import { makeFolder } from './write-file.ts'

/** How many files the list keeps. */
const most = 200

export interface RecentFile {
  /** Absolute. */
  readonly path: string
  /** Name of the folder it lies in. */
  readonly folder: string
  /** Milliseconds since 1970; null when an older version noted it. */
  readonly openedAt: number | null
}

/** The files opened last, newest first, kept in the user's data folder. A list that cannot be read or written is empty. */
export class RecentFiles {
  readonly #file: string
  /** Writes follow one another, so that two quick openings lose neither. */
  #last: Promise<void> = Promise.resolve()

  constructor(readonly folder: string) {
    this.#file = join(folder, 'recent.json')
  }

  /** Those that are still there. */
  async list(): Promise<readonly RecentFile[]> {
    await this.#last
    const there = await Promise.all(
      (await this.#read()).map(async one => ((await isFile(one.path)) ? [one] : [])),
    )
    return there.flat()
  }

  /** Puts a file on top. */
  add(path: string): Promise<void> {
    this.#last = this.#last.then(() => this.#put(path)).catch(() => undefined)
    return this.#last
  }

  async #put(path: string): Promise<void> {
    const rest = (await this.#read()).filter(one => one.path !== path)
    const files = [{ path, openedAt: Date.now() }, ...rest.map(({ path, openedAt }) => ({ path, openedAt }))]
    await makeFolder(this.folder)
    await atomicWrite(this.#file, `${JSON.stringify(files.slice(0, most), null, 2)}\n`)
  }

  async #read(): Promise<readonly RecentFile[]> {
    try {
      const value: unknown = JSON.parse(await readFile(this.#file, 'utf8'))
      return Array.isArray(value) ? value.flatMap(entryOf).slice(0, most) : []
    } catch {
      return []
    }
  }
}

/** An entry of the list; an older version kept bare paths. */
function entryOf(value: unknown): readonly RecentFile[] {
  if (typeof value === 'string') return [entry(value, null)]
  if (typeof value !== 'object' || value === null || !('path' in value) || typeof value.path !== 'string')
    return []
  return [
    entry(value.path, 'openedAt' in value && typeof value.openedAt === 'number' ? value.openedAt : null),
  ]
}

const entry = (path: string, openedAt: number | null): RecentFile => ({
  path,
  folder: basename(dirname(path)),
  openedAt,
})

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    info => info.isFile(),
    () => false,
  )
