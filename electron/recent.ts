import { readFile, stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import * as v from 'valibot'
import { atomicWrite } from './atomic-write.ts'
import { makeFolder } from './write-file.ts'

/** How many files the list keeps. */
const most = 200

export interface RecentFile {
  /** Absolute. */
  readonly path: string
  /** Places of the files that were opened together with it, in their order. */
  readonly beside: readonly string[]
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

  /** Those that are still there with all that belongs to them. */
  async list(): Promise<readonly RecentFile[]> {
    await this.#last
    const there = await Promise.all(
      (await this.#read()).map(async one => {
        const files = await Promise.all([one.path, ...one.beside].map(isFile))
        return files.every(Boolean) ? [one] : []
      }),
    )
    return there.flat()
  }

  /** Puts a file on top, with those that were opened together with it. */
  add(path: string, beside: readonly string[] = []): Promise<void> {
    this.#last = this.#last.then(() => this.#put(path, beside)).catch(() => undefined)
    return this.#last
  }

  async #put(path: string, beside: readonly string[]): Promise<void> {
    const rest = (await this.#read()).filter(one => one.path !== path)
    const files = [entry(path, Date.now(), beside), ...rest].map(({ folder: _, ...kept }) => kept)
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

/** What the list's file holds; an older version kept bare paths, the next one no files beside. */
const kept = v.union([
  v.pipe(
    v.string(),
    v.transform(path => entry(path, null, [])),
  ),
  v.pipe(
    v.object({
      path: v.string(),
      openedAt: v.optional(v.nullable(v.number()), null),
      beside: v.optional(v.array(v.string()), []),
    }),
    v.transform(({ path, openedAt, beside }) => entry(path, openedAt, beside)),
  ),
])

/** An entry of the list; none when it is damaged. */
function entryOf(value: unknown): readonly RecentFile[] {
  const read = v.safeParse(kept, value)
  return read.success ? [read.output] : []
}

const entry = (path: string, openedAt: number | null, beside: readonly string[]): RecentFile => ({
  path,
  beside,
  folder: basename(dirname(path)),
  openedAt,
})

const isFile = (path: string): Promise<boolean> =>
  stat(path).then(
    info => info.isFile(),
    () => false,
  )
