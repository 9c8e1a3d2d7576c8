import type { SignedFile } from './signoff.ts'
import type { ProofVersion } from './version.ts'

export const versionsFormat = 'rakelight-versions'
export const versionsVersion = 1

/** The versions of a job that went out, oldest first. */
export interface VersionsFile {
  readonly format: typeof versionsFormat
  readonly version: typeof versionsVersion
  readonly versions: readonly ListedVersion[]
}

export interface ListedVersion {
  readonly version: ProofVersion
  /** The files that show it, newest last; named relative to the job, forward slashes. */
  readonly files: readonly SignedFile[]
}

/** Past them the oldest would have to be forgotten, and none is: the list then takes no more. */
export const mostVersions = 1000
