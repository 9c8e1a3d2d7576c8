import { readArt } from '../core/art/read.ts'
import { BadInput } from '../core/base/finding.ts'
import { partOf, type Task } from '../core/base/task.ts'
import type { Job } from '../core/job/job.ts'
import { type SignedLayer, signedLayers } from '../core/proof/layers.ts'
import { rolesForJob } from './art-work.ts'
import { openFile } from './file-source.ts'

/** Parts of a job's art as it lies on the disk, with what they are; none where there is no art, or none that can be read. */
export async function artLayers(
  artPath: string | null,
  job: Job,
  task?: Task,
): Promise<readonly SignedLayer[]> {
  if (artPath === null) return []
  try {
    const source = await openFile(artPath)
    try {
      const file = await readArt(source, {}, partOf(task, 0, 0.1))
      return await signedLayers(
        file,
        await rolesForJob(file, job, partOf(task, 0.1, 0.5)),
        partOf(task, 0.5, 1),
      )
    } finally {
      await source.close()
    }
  } catch (error) {
    if (error instanceof BadInput) return []
    throw error
  }
}
