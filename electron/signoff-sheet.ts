import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'
import type { SignOffSheet } from '../core/export/signoff-pdf.ts'
import type { Job } from '../core/job/job.ts'
import { sourceChanges } from '../core/proof/changes.ts'
import { signedVersion, standing } from '../core/proof/standing.ts'
import { version } from './places.ts'
import { signedFile } from './signing.ts'
import { readRecord } from './signoff-book.ts'
import { type JobFiles, versionNow } from './version-sources.ts'

/** What is printed of a record, and the job whose pictures go with it. */
export interface SignOffOrder {
  readonly sheet: SignOffSheet
  /** The job that was signed; null where its files are no longer those, so that its pictures would be others. */
  readonly pictured: Job | null
}

/**
 * Reads a record to be printed and holds it to what there is now. Rejects with BadInput where there is none.
 * @param files  the job as it is, with its files; null where it is not there
 * @param madeAt ISO 8601, UTC
 */
export async function signOffOrder(
  recordPath: string,
  files: JobFiles | null,
  madeAt: string,
  task?: Task,
): Promise<SignOffOrder> {
  const name = basename(recordPath)
  const found = await readRecord(recordPath)
  if (found === null)
    throw new BadInput(
      'signoff-missing',
      name,
      'the record',
      'is not there: nobody was asked and nobody has decided',
      'Ask somebody, or decide, and print it then',
    )
  const { record, broken } = found
  const sheet = { record, broken, program: version, madeAt, file: await signedFile(recordPath, name, task) }
  if (broken.length > 0 || files === null) return { sheet: { ...sheet, standing: null }, pictured: null }
  const signed = signedVersion(record, name)
  const now = await versionNow(files, record.of.jobName, madeAt, task)
  const same = sourceChanges(signed.sources, now.sources).length === 0
  return { sheet: { ...sheet, standing: standing(signed, now) }, pictured: same ? signed.job : null }
}
