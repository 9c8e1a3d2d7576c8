import { sha256 as hasher } from '@noble/hashes/sha2.js'
import type { ByteSource } from './source.ts'
import { checkCancelled, type Task } from './task.ts'

const chunk = 4 << 20

/** SHA-256 (FIPS 180-4) of a whole source, lower-case hexadecimal; 4 MiB are held at a time. */
export async function sha256(source: ByteSource, task?: Task): Promise<string> {
  const hash = hasher.create()
  for (let at = 0; at < source.size; at += chunk) {
    checkCancelled(task)
    hash.update(await source.read(at, Math.min(chunk, source.size - at)))
    task?.progress?.(Math.min(1, (at + chunk) / source.size), 'checking the file')
  }
  return Array.from(hash.digest(), b => b.toString(16).padStart(2, '0')).join('')
}
