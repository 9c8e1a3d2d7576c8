import type { LampPath } from '../../core/job/job.ts'
import { isClosed, pathLength, samplePath } from '../../core/job/path.ts'
import { calmDegreesPerSecond, travel } from '../../core/job/travel.ts'
import type { RunView } from './state.ts'

/**
 * The run `elapsedS` of wall time later. At a calm pace neither lamp nor panel moves faster than
 * {@link calmDegreesPerSecond}, whatever the path's own times say. A loop that does not end where it starts
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

/** The longest step along the path, s, not above `elapsedS`, that keeps the pace calm. */
function calmStep(path: LampPath, from: number, elapsedS: number): number {
  const most = calmDegreesPerSecond * elapsedS
  const here = samplePath(path, from)
  let step = elapsedS
  // The angle grows nearly with the step, so two or three corrections meet the limit.
  for (let i = 0; i < 12; i++) {
    const moved = travel(here, samplePath(path, from + step))
    if (moved <= most) break
    step *= (0.999 * most) / moved
  }
  return step
}
