import { BadInput } from '../core/base/finding.ts'
import { partOf, type Task } from '../core/base/task.ts'
import type { Job } from '../core/job/job.ts'
import { type SignedLayer, signedLayers } from '../core/proof/layers.ts'
import { rolesForJob } from './art-work.ts'
import { openArt, type PlacedArt } from './placed-art.ts'

/** Parts of a job's art as it lies on the disk, with what they are; none where there is no art, or none that can be read. */
export async function artLayers(
  art: PlacedArt | null,
  job: Job,
  task?: Task,
): Promise<readonly SignedLayer[]> {
  if (art === null) return []
  try {
    const { file, close } = await openArt(art, job.art ?? {}, partOf(task, 0, 0.1))
    try {
      const roles = await rolesForJob(file, job, partOf(task, 0.1, 0.5))
      return await signedLayers(file, roles, partOf(task, 0.5, 1))
    } finally {
      await close()
    }
  } catch (error) {
    if (error instanceof BadInput) return []
    throw error
  }
}
