import { dirname, relative, resolve, sep } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import type { SignedFile } from '../../core/proof/signoff.ts'
import type { ProofVersion } from '../../core/proof/version.ts'
import { addVersion } from '../version-book.ts'
import type { Output } from './command.ts'

/** The proof is whole without its line in the list of versions: where that cannot be written it is said. */
export async function listVersion(
  jobPath: string,
  of: ProofVersion,
  file: SignedFile,
  output: Output,
): Promise<boolean> {
  try {
    await addVersion(jobPath, of, file)
    return true
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    output.say(`Note: the version is not in the list beside the job: ${error.message}`)
    return false
  }
}

/** A file as the list beside the job names it. */
export const nameBeside = (jobPath: string, target: string): string =>
  relative(dirname(resolve(jobPath)), resolve(target))
    .split(sep)
    .join('/')
