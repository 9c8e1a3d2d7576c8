import { basename, dirname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { besideJob } from '../core/proof/names.ts'
import { listedText, parseVersions } from '../core/proof/read-versions.ts'
import type { SignedFile } from '../core/proof/signoff.ts'
import type { ProofVersion } from '../core/proof/version.ts'
import type { ListedVersion } from '../core/proof/versions.ts'
import { changeFile, textOrNull } from './shared-file.ts'

/** Where the list of a job's versions lies. */
const listPath = (jobPath: string): string => join(dirname(jobPath), besideJob(basename(jobPath), 'versions'))

/** Versions of a job that went out, oldest first; none where there is no list. Rejects with BadInput for a list that cannot be read. */
export async function listVersions(jobPath: string): Promise<readonly ListedVersion[]> {
  const path = listPath(jobPath)
  const text = await textOrNull(path)
  return text === null ? [] : parseVersions(text, basename(path)).versions
}

/** A version of the list by its id, or by enough of its first digits. Rejects with BadInput. */
export async function listedVersion(jobPath: string, id: string): Promise<ListedVersion> {
  const found = (await listVersions(jobPath)).filter(one => one.version.id.startsWith(id))
  const [listed] = found
  if (listed !== undefined && found.length === 1) return listed
  throw new BadInput(
    'no-such-version',
    basename(jobPath),
    `version ${id}`,
    listed === undefined ? 'is not in its list' : `could be any of ${found.length}`,
    `See: rakelight versions ${basename(jobPath)}`,
  )
}

/**
 * Notes that a version went out, in the list beside the job. Two that do so at once are both in it afterwards.
 * @param file that shows it, named relative to the job's folder; null where none does
 */
export async function addVersion(
  jobPath: string,
  version: ProofVersion,
  file: SignedFile | null,
): Promise<void> {
  const path = listPath(jobPath)
  await changeFile(path, async text => ({
    text: listedText(text, version, file, basename(path)),
    value: null,
  }))
}
