import { canonicalJson } from '../base/canonical-json.ts'
import { sha256Hex } from '../base/sha256.ts'
import type { Job } from '../job/job.ts'

/** What one proof shows: the job as it stood, what it was made from, and by which program. */
export interface ProofVersion {
  /** SHA-256 of the canonical JSON of all the rest, 64 lower-case hexadecimal digits; the first eight are shown. */
  readonly id: string
  readonly jobName: string
  /** ISO 8601, UTC. */
  readonly madeAt: string
  /** Version of rakelight. */
  readonly program: string
  /** Version of its tables of numbers. */
  readonly data: string
  readonly sources: readonly ProofSource[]
  readonly job: Job
  /** SHA-256 of the canonical JSON of `job`. */
  readonly jobSha256: string
}

/** A file that the proof was made from, as it was then. */
export interface ProofSource {
  readonly kind: (typeof sourceKinds)[number]
  /** As the job names it. */
  readonly name: string
  readonly sha256: string
  readonly bytes: number
}

export const sourceKinds = ['art', 'profile', 'asset', 'carton'] as const

/** A version of what is known of it; its id and the job's hash follow. */
export function versionOf(known: Omit<ProofVersion, 'id' | 'jobSha256'>): ProofVersion {
  const { jobName, madeAt, program, data, sources, job } = known
  const rest = { jobName, madeAt, program, data, sources, job, jobSha256: jobHash(job) }
  return { id: versionId(rest), ...rest }
}

/** The id that a version has by its content. */
export function versionId(rest: Omit<ProofVersion, 'id'>): string {
  return sha256Hex(canonicalJson(rest))
}

/** SHA-256 of what a job says; how its file is laid out does not count. */
export const jobHash = (job: Job): string => sha256Hex(canonicalJson(job))

/** What is shown of an id or a hash. */
export const shortId = (id: string): string => id.slice(0, 8)
