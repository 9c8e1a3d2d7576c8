import type { Task } from '../../core/base/task.ts'
import type { JobWork } from '../art-work.ts'
import type { JobAtWork } from '../open-job.ts'
import { workerFile } from '../places.ts'
import { WorkerPool } from '../worker-pool.ts'
import type { CheckCrafts } from '../workers/check.ts'

/** Work on a job in a thread of its own, so that an interrupt is heard in the middle of a sum. */
export async function inCheckWorker<N extends keyof CheckCrafts>(
  name: N,
  { job, art, assets, profile, artChange }: JobAtWork,
  also: Omit<CheckCrafts[N]['input'], 'art' | keyof JobWork>,
  task: Task,
): Promise<CheckCrafts[N]['value']> {
  const pool = new WorkerPool<CheckCrafts>(workerFile('check'), 1)
  try {
    const told = artChange === undefined ? {} : { artChange }
    return await pool.run(
      name,
      { ...also, art, job, assets, profile, ...told } as CheckCrafts[N]['input'],
      task,
    )
  } finally {
    await pool.close()
  }
}
