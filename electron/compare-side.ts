import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'
import type { Job } from '../core/job/job.ts'
import { sourceChanges } from '../core/proof/changes.ts'
import { shortId } from '../core/proof/version.ts'
import type { ListedVersion } from '../core/proof/versions.ts'
import { openJob, placeJob } from './open-job.ts'
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

/** A job file, or a version of one as `JOB@1a2b3c4d`. Rejects with BadInput. */
export async function openSide(operand: string, allowOutside: boolean, task?: Task): Promise<Side> {
  const [, jobPath, id] = /^(.+\.json)@([0-9a-f]{4,64})$/i.exec(operand) ?? []
  if (jobPath === undefined || id === undefined)
    return jobSide(await openJob(operand, allowOutside, task), basename(operand), task)
  return versionSide(jobPath, await listedVersion(jobPath, id.toLowerCase()), allowOutside, task)
}

/** A job with its files as they are now. */
export async function jobSide(files: JobFiles, name: string, task?: Task): Promise<Side> {
  const { job, artPath, assets, profile } = files
  const sources = await sourcesOf(files, task)
  const from = { kind: 'job', artPath, assets, profile } as const
  return { name, key: JSON.stringify([sources, job]), job, sources, from }
}

/**
 * A version that went out, from its files. Rejects with BadInput where they are no longer the same.
 */
export async function versionSide(
  jobPath: string,
  { version }: ListedVersion,
  allowOutside: boolean,
  task?: Task,
): Promise<Side> {
  const name = `${version.jobName}, version ${shortId(version.id)}`
  const side = await jobSide(await placeJob(jobPath, version.job, allowOutside, task), name, task)
  const [change] = sourceChanges(version.sources, side.sources)
  if (change === undefined) return side
  throw new BadInput('version-gone', name, 'its files', change.words, 'Put the file back as it was')
}
