import { stat } from 'node:fs/promises'
import { checkCancelled, type Task } from '../core/base/task.ts'
import { dataVersion } from '../core/data/version.ts'
import type { Job } from '../core/job/job.ts'
import { type ProofSource, type ProofVersion, versionOf } from '../core/proof/version.ts'
import type { PlacedAsset, PlacedFile } from './asset-places.ts'
import { hashFile } from './hash-file.ts'
import type { PlacedArt } from './placed-art.ts'
import { version } from './places.ts'

/** A job with the places of its files. */
export interface JobFiles {
  readonly job: Job
  /** Null before there is any art. */
  readonly art: PlacedArt | null
  readonly assets: readonly PlacedAsset[]
  readonly profile: PlacedFile | null
}

/** What a job is made from, as it lies on the disk now. Files that are not there, or may not be read, are left out. */
export async function sourcesOf(files: JobFiles, task?: Task): Promise<readonly ProofSource[]> {
  const { job, art, assets, profile } = files
  const sources: ProofSource[] = []
  const note = async (kind: ProofSource['kind'], name: string, path: string | null) => {
    checkCancelled(task)
    if (path === null) return
    sources.push({ kind, name, sha256: await hashFile(path, task), bytes: (await stat(path)).size })
  }
  if (job.art !== null) {
    await note('art', job.art.path, art?.path ?? null)
    for (const [i, { path: name }] of (job.art.beside ?? []).entries())
      await note('art', name, art?.beside[i] ?? null)
  }
  if (profile !== null) await note('profile', profile.name, profile.path)
  for (const asset of assets) for (const { name, path } of asset.files) await note('asset', name, path)
  return sources
}

/**
 * The version that a job shows as it is now.
 * @param jobName file name of the job
 * @param madeAt  ISO 8601, UTC
 */
export async function versionNow(
  files: JobFiles,
  jobName: string,
  madeAt: string,
  task?: Task,
): Promise<ProofVersion> {
  const sources = await sourcesOf(files, task)
  return versionOf({ jobName, madeAt, program: version, data: dataVersion, sources, job: files.job })
}
