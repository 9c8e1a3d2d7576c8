import { readFile, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { atomicWrite } from './atomic-write.ts'
import { makeFolder } from './write-file.ts'

/** How many files the list keeps. */
const most = 10

/** The files opened last, newest first, kept in the user's data folder. A list that cannot be read or written is empty. */
export class RecentFiles {
  readonly #file: string
  /** Writes follow one another, so that two quick openings lose neither. */
  #last: Promise<void> = Promise.resolve()

  constructor(readonly folder: string) {
    this.#file = join(folder, 'recent.json')
  }

  /** Absolute paths that are still there. */
  async list(): Promise<readonly string[]> {
    await this.#last
    const there = await Promise.all(
      (await this.#read()).map(async path => ((await isFile(path)) ? [path] : [])),
    )
    return there.flat()
  }

  /** Puts a file on top. */
  add(path: string): Promise<void> {
    this.#last = this.#last.then(() => this.#put(path)).catch(() => undefined)
    return this.#last
  }

  async #put(path: string): Promise<void> {
    const paths = [path, ...(await this.#read()).filter(one => one !== path)].slice(0, most)
    await makeFolder(this.folder)
    await atomicWrite(this.#file, `${JSON.stringify(paths, null, 2)}\n`)
  }

  async #read(): Promise<readonly string[]> {
    try {
      const value: unknown = JSON.parse(await readFile(this.#file, 'utf8'))
      return Array.isArray(value) ? value.filter(one => typeof one === 'string').slice(0, most) : []
    } catch {
      return []
    }
  }
}

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    info => info.isFile(),
    () => false,
  )
