import { createHash } from 'node:crypto'
import { readdir, readFile, rm, stat, utimes } from 'node:fs/promises'
import { join } from 'node:path'
import { decodeWire, encodeWire } from '../core/host/wire.ts'
import { atomicWrite } from './atomic-write.ts'
import { makeFolder } from './write-file.ts'

const ending = '.kept'

/** Bytes that all kept results may take together. */
const usualBytes = 2 * 2 ** 30

/**
 * Results of long work in the program's data folder, by everything they were made from. What was not used for longest
 * goes first. A disk that does not take or give a result only makes the work be done again.
 */
export class KeptWork {
  readonly #folder: string
  /** Writes follow one another, so that none counts what another is about to remove. */
  #last: Promise<void> = Promise.resolve()

  /** @param makers what the results depend on beside their inputs: the program itself */
  constructor(
    dataFolder: string,
    readonly makers: string,
    readonly mostBytes = usualBytes,
  ) {
    this.#folder = join(dataFolder, 'kept')
  }

  /** The result for these inputs (plain data), or null. The caller trusts the type, as it wrote the result itself. */
  async get<T>(kind: string, inputs: unknown): Promise<T | null> {
    await this.#last
    const file = this.#file(kind, inputs)
    try {
      const value = decodeWire(new Uint8Array(await readFile(file))) as T
      const now = new Date()
      await utimes(file, now, now).catch(() => undefined)
      return value
    } catch {
      return null
    }
  }

  /** Keeps a result. Returns at once; it is written behind. */
  put(kind: string, inputs: unknown, value: unknown): void {
    this.putBytes(kind, inputs, encodeWire(value))
  }

  /** The same for a result in the bytes of `encodeWire`. */
  putBytes(kind: string, inputs: unknown, bytes: Uint8Array): void {
    if (bytes.length > this.mostBytes) return
    this.#last = this.#last
      .then(async () => {
        await makeFolder(this.#folder)
        await this.#makeRoom(bytes.length)
        await atomicWrite(this.#file(kind, inputs), bytes)
      })
      .catch(() => undefined)
  }

  /** Resolves once everything is on the disk. */
  written(): Promise<void> {
    return this.#last
  }

  #file(kind: string, inputs: unknown): string {
    const name = createHash('sha256')
      .update(JSON.stringify([this.makers, kind, inputs]))
      .digest('hex')
    return join(this.#folder, `${name}${ending}`)
  }

  async #makeRoom(bytes: number): Promise<void> {
    const files = await Promise.all(
      (await readdir(this.#folder))
        .filter(name => name.endsWith(ending))
        .map(async name => {
          const path = join(this.#folder, name)
          const { size, mtimeMs } = await stat(path)
          return { path, size, mtimeMs }
        }),
    )
    files.sort((a, b) => a.mtimeMs - b.mtimeMs)
    let sum = files.reduce((total, one) => total + one.size, bytes)
    for (const { path, size } of files) {
      if (sum <= this.mostBytes) return
      await rm(path, { force: true })
      sum -= size
    }
  }
}
