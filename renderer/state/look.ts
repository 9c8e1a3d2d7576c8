import type { Job } from '../../core/job/job.ts'
import { samplePath } from '../../core/job/path.ts'
import { sceneAt, sceneWith } from '../../core/job/scene.ts'
import type { Scene } from '../../core/reference/scene.ts'
import type { State } from './state.ts'

/** The scene on the table: the job's own, or its lamp and panel where the light run or a note has them. */
export function sceneOf(job: Job, run: State['view']['run']): Scene {
  const path = job.paths[run.path]
  const stood = run.timeS === null || path === undefined ? run.stood : samplePath(path, run.timeS)
  return stood === null ? sceneWith(job, job.light.lamps[0].pose, job.view.pose) : sceneAt(job, stood)
}
