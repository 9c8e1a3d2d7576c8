import { randomBytes } from 'node:crypto'
import { open, readdir, realpath, rename, rm, stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'

const ending = '.rakelight-part'

/**
 * Writes a whole file so that, whenever the process or the machine stops, the path holds either all of the
 * old content or all of the new. The bytes go to a file beside it, are flushed, and take its name in one step;
 * then the folder is flushed, so that the new name survives a power cut too.
 * A link is followed and kept; an existing file keeps its permissions. Rejects with the system's own error
 * and leaves nothing behind. What a killed save left beside the file is cleared by the next one.
 */
export async function atomicWrite(path: string, content: Uint8Array | string): Promise<void> {
  const part = await partFor(path)
  try {
    await writeFlushed(part, content)
    await takeName(part)
  } catch (error) {
    await dropPart(part)
    throw error
  }
}

/** Where a file is written before it takes its name. */
export interface Part {
  /** Path of the part, in the folder of the place. */
  readonly path: string
  /** Path that it takes in the end; a link was followed. */
  readonly place: string
  readonly mode: number
}

/** A part for a file that is written piece by piece; it is not there yet. What killed writers left beside it is cleared. */
export async function partFor(path: string): Promise<Part> {
  const place = await realpath(path).catch(() => path)
  const folder = dirname(place)
  await clearLeftovers(folder, basename(place))
  const mode = await stat(place).then(
    info => info.mode & 0o777,
    () => 0o666,
  )
  const name = `.${basename(place)}.${process.pid}.${randomBytes(6).toString('hex')}${ending}`
  return { path: join(folder, name), place, mode }
}

/** A part that is whole and flushed becomes the file. */
export async function takeName(part: Part): Promise<void> {
  await rename(part.path, part.place)
  await flushFolder(dirname(part.place))
}

export async function dropPart(part: Part): Promise<void> {
  await rm(part.path, { force: true })
}

async function writeFlushed({ path, mode }: Part, content: Uint8Array | string): Promise<void> {
  const file = await open(path, 'wx', mode)
  try {
    await file.writeFile(content)
    await file.sync()
  } finally {
    await file.close()
  }
}

/** Not every system can open a folder for flushing (Windows); there the rename itself is journalled. */
async function flushFolder(folder: string): Promise<void> {
  const handle = await open(folder, 'r').catch(() => null)
  try {
    await handle?.sync().catch(() => undefined)
  } finally {
    await handle?.close()
  }
}

/** Only parts of this file whose writer no longer runs: another save may be under way. */
async function clearLeftovers(folder: string, name: string): Promise<void> {
  for (const entry of await readdir(folder)) {
    if (!entry.startsWith(`.${name}.`) || !entry.endsWith(ending)) continue
    const pid = Number(entry.slice(name.length + 2).split('.')[0])
    if (!isRunning(pid)) await rm(join(folder, entry), { force: true })
  }
}

/** Whether a process of this machine runs, as far as the system tells. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return error instanceof Error && 'code' in error && error.code === 'EPERM'
  }
}
