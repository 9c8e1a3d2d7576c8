import type { Task } from '../../core/base/task.ts'
import { cartonFindings } from '../../core/job/carton-findings.ts'
import { bakingsOf } from '../../core/reference/baking.ts'
import { buildFromJob, type JobAtWork } from '../open-job.ts'
import { FrameRenderer } from '../render-frames.ts'
import { assetNotes, type Output } from './command.ts'

/** What draws a job's frames, to be closed; what was met while its map was built is said. */
export async function frameRenderer(
  opened: JobAtWork,
  output: Output,
  building: Task,
): Promise<FrameRenderer> {
  const { job } = opened
  const { map, findings } = await buildFromJob(opened, building)
  output.progress(null)
  for (const note of assetNotes(findings)) output.say(note)
  for (const { where, message, fix } of cartonFindings(job)) output.say(`Note: ${where}: ${message}. ${fix}`)
  return new FrameRenderer(map, bakingsOf(job, map))
}
