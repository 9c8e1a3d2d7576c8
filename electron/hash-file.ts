import { createHash } from 'node:crypto'
import { createReadStream } from 'node:fs'
import { basename } from 'node:path'
import { checkCancelled, type Task } from '../core/base/task.ts'
import { openFile } from './file-source.ts'

/** SHA-256 of a file, lower-case hexadecimal. Rejects with BadInput when it cannot be read. */
export async function hashFile(path: string, task?: Task): Promise<string> {
  const { size, close } = await openFile(path)
  await close()
  const hash = createHash('sha256')
  let done = 0
  for await (const chunk of createReadStream(path, { highWaterMark: 1 << 20 })) {
    checkCancelled(task)
    hash.update(chunk as Uint8Array)
    done += (chunk as Uint8Array).length
    task?.progress?.(Math.min(1, done / Math.max(1, size)), `checking ${basename(path)}`)
  }
  return hash.digest('hex')
}
