import type { Task } from '../../core/base/task.ts'
import type { JobWork } from '../art-work.ts'
import type { JobAtWork } from '../open-job.ts'
import type { PlacedArt } from '../placed-art.ts'
import { workerFile } from '../places.ts'
import { WorkerPool } from '../worker-pool.ts'
import type { PicturesCrafts } from '../workers/pictures.ts'

/** Pictures of a job in a thread of its own, so that an interrupt is heard in the middle of one. */
export async function inPictureWorker<N extends keyof PicturesCrafts>(
  name: N,
  input: PicturesCrafts[N]['input'],
  task: Task,
): Promise<PicturesCrafts[N]['value']> {
  const pool = new WorkerPool<PicturesCrafts>(workerFile('pictures'), 1)
  try {
    return await pool.run(name, input, task)
  } finally {
    await pool.close()
  }
}

/** A job as the worker takes it. */
export function workFrom({ job, art, assets, profile }: JobAtWork): { art: PlacedArt | null } & JobWork {
  return { art, job, assets, profile }
}
