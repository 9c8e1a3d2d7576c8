import { BadInput } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'
import { type ArtChange, artChange } from '../core/job/art-change.ts'
import type { Job } from '../core/job/job.ts'
import { seenArt } from '../core/job/seen.ts'
import { openArt, type PlacedArt } from './placed-art.ts'

/**
 * What differs between a job's art as it lies on the disk and as it met the job; null where the job does not say how it
 * lay, or the art cannot be read: whoever needs it says so.
 */
export async function changedArt(job: Job, art: PlacedArt, task?: Task): Promise<ArtChange | null> {
  if (job.seen === undefined) return null
  try {
    const { file, close } = await openArt(art, job.art ?? {}, task)
    try {
      return artChange(job.seen, await seenArt(file, task))
    } finally {
      await close()
    }
  } catch (error) {
    if (error instanceof BadInput) return null
    throw error
  }
}
