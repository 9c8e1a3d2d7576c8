import { stat } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import type { Task } from '../core/base/task.ts'
import type { SignedFile } from '../core/proof/signoff.ts'
import { standing } from '../core/proof/standing.ts'
import { hashFile } from './hash-file.ts'
import type { Signing } from './signoff-book.ts'
import { listVersions } from './version-book.ts'
import { type JobFiles, versionNow } from './version-sources.ts'

/**
 * What is signed when a job is: the newest version in its list that shows the job and its files as they are now, with
 * its newest proof that is still the same; else the job itself.
 * @param madeAt ISO 8601, UTC
 */
export async function signingOf(
  jobPath: string,
  files: JobFiles,
  madeAt: string,
  layers: Signing['layers'],
  task?: Task,
): Promise<Signing> {
  const now = await versionNow(files, basename(jobPath), madeAt, task)
  const listed = (await listVersions(jobPath)).findLast(one => standing(one.version, now).kind === 'stands')
  if (listed === undefined) return { version: now, proof: null, layers }
  for (const file of [...listed.files].reverse())
    if (/\.html$/i.test(file.name) && (await isStill(join(dirname(jobPath), ...file.name.split('/')), file)))
      return { version: listed.version, proof: file, layers }
  return { version: now, proof: null, layers }
}

export async function isStill(path: string, file: SignedFile): Promise<boolean> {
  const info = await stat(path).catch(() => null)
  return info?.size === file.bytes && (await hashFile(path)) === file.sha256
}

/** A file as a record names it. @param name relative to the record */
export async function signedFile(path: string, name = basename(path), task?: Task): Promise<SignedFile> {
  return { name, sha256: await hashFile(path, task), bytes: (await stat(path)).size }
}
