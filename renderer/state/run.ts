import type { LampPath } from '../../core/job/job.ts'
import { isClosed, pathLength } from '../../core/job/path.ts'
import { calmStep } from '../../core/job/travel.ts'
import type { RunView } from './state.ts'

/**
 * The run `elapsedS` of wall time later. At a calm pace neither lamp nor panel moves faster than
 * `calmDegreesPerSecond`, whatever the path's own times say. A loop that does not end where it starts
 * stops at its end, because jumping back would flash.
 */
export function advanced(run: RunView, path: LampPath, elapsedS: number): RunView {
  const length = pathLength(path)
  const from = run.timeS ?? 0
  const timeS = from + (run.pace === 'calm' ? calmStep(path, from, elapsedS) : elapsedS)
  if (timeS < length) return { ...run, timeS }
  if (length > 0 && isClosed(path)) return { ...run, timeS: timeS % length }
  return { ...run, timeS: length, playing: false }
}
