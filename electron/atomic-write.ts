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
  const place = await realpath(path).catch(() => path)
  const folder = dirname(place)
  await clearLeftovers(folder, basename(place))
  const mode = await stat(place).then(
    info => info.mode & 0o777,
    () => 0o666,
  )
  const part = join(folder, `.${basename(place)}.${process.pid}.${randomBytes(6).toString('hex')}${ending}`)
  try {
    await writeFlushed(part, content, mode)
    await rename(part, place)
  } catch (error) {
    await rm(part, { force: true })
    throw error
  }
  await flushFolder(folder)
}

async function writeFlushed(path: string, content: Uint8Array | string, mode: number): Promise<void> {
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
