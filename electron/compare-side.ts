import { basename, dirname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'
import type { Job } from '../core/job/job.ts'
import { sourceChanges } from '../core/proof/changes.ts'
import { type ProofVersion, shortId } from '../core/proof/version.ts'
import type { ListedVersion } from '../core/proof/versions.ts'
import { openJob, placeJob } from './open-job.ts'
import { isProofName, openProof } from './open-proof.ts'
import { isStill } from './signing.ts'
import { listedVersion } from './version-book.ts'
import { type JobFiles, sourcesOf } from './version-sources.ts'
import type { SideFrom } from './workers/compare.ts'

/** One of two that are compared. */
export interface Side {
  /** As a reader knows it. */
  readonly name: string
  /** Tells its map from others. */
  readonly key: string
  readonly job: Job
  readonly sources: Awaited<ReturnType<typeof sourcesOf>>
  readonly from: SideFrom
}

/** A job file, a proof, or a version of a job as `JOB@1a2b3c4d`. Rejects with BadInput. */
export async function openSide(operand: string, allowOutside: boolean, task?: Task): Promise<Side> {
  const [, jobPath, id] = /^(.+\.json)@([0-9a-f]{4,64})$/i.exec(operand) ?? []
  if (isProofName(operand)) return proofSide(operand)
  if (jobPath === undefined || id === undefined)
    return jobSide(await openJob(operand, allowOutside, task), basename(operand), task)
  return versionSide(jobPath, await listedVersion(jobPath, id.toLowerCase()), allowOutside, task)
}

/** A job with its files as they are now. */
export async function jobSide(files: JobFiles, name: string, task?: Task): Promise<Side> {
  const { job, art, assets, profile } = files
  const sources = await sourcesOf(files, task)
  const from = { kind: 'job', art, assets, profile } as const
  return { name, key: JSON.stringify([sources, job]), job, sources, from }
}

/**
 * A version that went out: from its files where they are the same, at its full detail, else from its proof where that
 * still lies beside the job. Rejects with BadInput where neither is so.
 */
export async function versionSide(
  jobPath: string,
  { version, files }: ListedVersion,
  allowOutside: boolean,
  task?: Task,
): Promise<Side> {
  const name = `${version.jobName}, version ${shortId(version.id)}`
  const lost = await fromFiles(jobPath, version, name, allowOutside, task)
  if (!('problem' in lost)) return lost
  for (const file of [...files].reverse()) {
    const path = join(dirname(jobPath), ...file.name.split('/'))
    if (isProofName(path) && (await isStill(path, file))) return { ...(await proofSide(path)), name }
  }
  throw new BadInput(
    'version-gone',
    name,
    'its files',
    `${lost.problem}, and no proof of it lies beside the job`,
    'Put the file or the proof back as it was',
  )
}

/** The version built again; what stands against it where its files are no longer there or the same. */
async function fromFiles(
  jobPath: string,
  version: ProofVersion,
  name: string,
  allowOutside: boolean,
  task?: Task,
): Promise<Side | { readonly problem: string }> {
  try {
    const side = await jobSide(await placeJob(jobPath, version.job, allowOutside, task), name, task)
    const [change] = sourceChanges(version.sources, side.sources)
    return change === undefined ? side : { problem: change.words }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { problem: error.problem }
  }
}

/** What a proof shows; its map comes with it. */
async function proofSide(path: string): Promise<Side> {
  const { version } = await openProof(path)
  const { id, job, sources } = version
  const name = `${basename(path)}, version ${shortId(id)}`
  return { name, key: `proof ${id} ${path}`, job, sources, from: { kind: 'proof', path } }
}
