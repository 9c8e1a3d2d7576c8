import { BadInput } from '../../core/base/finding.ts'
import type { Job, LampPath } from '../../core/job/job.ts'
import { samplePath } from '../../core/job/path.ts'
import { sceneAt } from '../../core/job/scene.ts'
import { checkStanding } from '../../core/job/standing.ts'
import type { Scene } from '../../core/reference/scene.ts'

/** A lamp path of a job by its name; its first when none is named. Throws BadInput. */
export function pathOf(job: Job, jobName: string, wanted: string | undefined): LampPath {
  const path = wanted === undefined ? job.paths[0] : job.paths.find(one => one.name === wanted)
  if (path !== undefined) return path
  const names = job.paths.map(one => `"${one.name}"`).join(', ')
  throw new BadInput(
    'no-such-path',
    jobName,
    'field "paths"',
    wanted === undefined ? 'the job has no lamp path' : `there is no lamp path "${wanted}"`,
    names === '' ? 'Add a lamp path in the app' : `Choose one of ${names}`,
  )
}

/** The job's scene with lamp and panel where the path has them, at each time. Throws BadInput for a lamp in the panel. */
export function scenesAlong(
  job: Job,
  path: LampPath,
  times: readonly number[],
  jobName: string,
): readonly Scene[] {
  return times.map((time, i) => {
    const stood = samplePath(path, time)
    const scene = sceneAt(job, stood)
    for (const [lamp, one] of scene.light.lamps.entries())
      if (lamp === 0 || stood.others[lamp - 1])
        checkStanding(one, stood.pose, job.panel, jobName, `path "${path.name}", frame ${i + 1}`)
    return scene
  })
}
