import type { Job } from '../../core/job/job.ts'
import { samplePath } from '../../core/job/path.ts'
import type { Scene } from '../../core/reference/scene.ts'
import type { State } from './state.ts'

/** The scene on the table: the job's own, or its lamp and panel where the light run has them. */
export function sceneOf(job: Job, run: State['view']['run']): Scene {
  const path = job.paths[run.path]
  const stood = run.timeS === null || path === undefined ? null : samplePath(path, run.timeS)
  const { board, light, view } = job
  if (stood === null) return { board, light, view }
  return { board, light: { ...light, lamp: stood.lamp }, view: { ...view, pose: stood.pose } }
}
