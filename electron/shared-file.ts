import { randomBytes } from 'node:crypto'
import { link, open, readFile, rename, rm, stat } from 'node:fs/promises'
import { hostname } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { isRunning } from './atomic-write.ts'
import { readText } from './read-text.ts'
import { writeFileSafely } from './write-file.ts'

/** A lock this old whose writer cannot be asked is of one that is gone, ms. */
const staleAfter = 60_000
/** How long another writer is waited for, ms. */
const patience = 15_000
const pause = 25

/**
 * Changes a file that several programs add to: it is read, changed and written whole while nobody else does.
 * Rejects with BadInput when it cannot be read or written, or when another writer does not finish.
 * @param change the new text from the text there is; null = there is no file. What it throws leaves the file as it was.
 */
export async function changeFile<T>(
  path: string,
  change: (text: string | null) => Promise<{ readonly text: string; readonly value: T }>,
): Promise<T> {
  const release = await locked(path)
  try {
    const { text, value } = await change(await textOrNull(path))
    await writeFileSafely(path, text)
    return value
  } finally {
    await release()
  }
}

/** The text of a file; null where there is none. */
export async function textOrNull(path: string): Promise<string | null> {
  const there = await stat(path).then(
    () => true,
    () => false,
  )
  return there ? readText(path) : null
}

/** Waits for a file's lock, a file beside it, and takes it. */
async function locked(path: string): Promise<() => Promise<void>> {
  const lock = join(dirname(path), `.${basename(path)}.lock`)
  const until = Date.now() + patience
  for (;;) {
    const handle = await open(lock, 'wx').catch((error: unknown) => {
      if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return null
      // The write says what is wrong with the place, in words.
      return undefined
    })
    if (handle === undefined) return async () => undefined
    if (handle !== null) {
      await handle.writeFile(`${process.pid} ${hostname()}`)
      await handle.close()
      return () => rm(lock, { force: true })
    }
    const stale = await staleText(lock)
    if (stale !== null) await removeLock(lock, stale)
    else if (Date.now() > until)
      throw new BadInput(
        'file-busy',
        basename(path),
        'the file',
        'is being written by another rakelight that does not finish',
        `Try again; if no other runs, remove ${basename(lock)} beside it`,
      )
    else await new Promise(done => setTimeout(done, pause))
  }
}

/** Takes away a lock that says this and no other: meanwhile somebody else may have done so and taken it. */
async function removeLock(lock: string, stale: string): Promise<void> {
  const aside = `${lock}.${randomBytes(6).toString('hex')}`
  try {
    await rename(lock, aside)
  } catch {
    return
  }
  if ((await readFile(aside, 'utf8')) !== stale) await link(aside, lock).catch(() => undefined)
  await rm(aside, { force: true })
}

/** What a lock says whose writer runs no more, or is on another machine and took it long ago; else null. */
async function staleText(lock: string): Promise<string | null> {
  const [text, info] = await Promise.all([
    readFile(lock, 'utf8').catch(() => null),
    stat(lock).catch(() => null),
  ])
  if (text === null || info === null) return null
  const [pid, host] = text.split(' ')
  const stale = host === hostname() ? !isRunning(Number(pid)) : Date.now() - info.mtimeMs > staleAfter
  return stale ? text : null
}
