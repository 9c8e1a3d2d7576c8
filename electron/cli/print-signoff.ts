import { basename } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import { partOf, type Task } from '../../core/base/task.ts'
import { type JobAtWork, openJob } from '../open-job.ts'
import { signOffOrder } from '../signoff-sheet.ts'
import { writeFileSafely } from '../write-file.ts'
import type { Args } from './args.ts'
import type { Output } from './command.ts'
import { inPictureWorker, workFrom } from './picture-worker.ts'
import { progressTask } from './progress.ts'

/**
 * Writes a record of sign-off as a PDF to be printed, with pictures where the job and its files are as signed.
 * @param jobPath where the job lies, or would
 */
export async function printSignOff(
  recordPath: string,
  jobPath: string,
  args: Args,
  target: string,
  output: Output,
): Promise<void> {
  const task: Task = progressTask(output, `Printing ${basename(recordPath)}`)
  const opened = await jobThere(jobPath, args, task)
  const order = await signOffOrder(recordPath, opened, new Date().toISOString(), partOf(task, 0, 0.05))
  const { sheet, pictured } = order
  const own = opened === null || pictured === null ? null : workFrom({ ...opened, job: pictured })
  const bytes = await inPictureWorker('signoff', { sheet, pictured: own }, partOf(task, 0.05, 1))
  output.progress(null)
  await writeFileSafely(target, bytes)
  output.say(`Wrote ${target}.`)
}

/** The job with its files; null where it or its art is not there, or may not be read. */
async function jobThere(path: string, args: Args, task: Task): Promise<JobAtWork | null> {
  return openJob(path, args.has('allow-outside'), task, args.value('design')).catch(error => {
    if (error instanceof BadInput) return null
    throw error
  })
}
