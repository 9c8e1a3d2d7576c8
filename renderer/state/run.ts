import type { LampPath } from '../../core/job/job.ts'
import { isClosed, pathLength, type Standpoint, samplePath } from '../../core/job/path.ts'
import { aroundZero, lampTravel } from './angles.ts'
import type { RunView } from './state.ts'

/** Above this, lit holography can strobe; a light run that was not asked to hurry stays below. */
export const calmDegreesPerSecond = 10

/** A stop is never nearer to the one before than this, s. */
const shortestStopS = 0.5

/** How far lamp and panel move between two standpoints, degrees: the larger of the two. */
export function travel(a: Standpoint, b: Standpoint): number {
  return Math.max(
    lampTravel(a.lamp, b.lamp),
    Math.abs(a.pose.tiltForwardDeg - b.pose.tiltForwardDeg),
    Math.abs(a.pose.tiltSideDeg - b.pose.tiltSideDeg),
    Math.abs(aroundZero(a.pose.turnDeg - b.pose.turnDeg)),
  )
}

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

/** The path with one more stop at its end, reached at half the calm pace: speed between stops is not even. */
export function withStop(path: LampPath, stop: Standpoint): LampPath {
  const last = path.keys.at(-1)
  if (last === undefined) return { ...path, keys: [{ timeS: 0, ...stop }] }
  const takesS = Math.max(shortestStopS, travel(last, stop) / (calmDegreesPerSecond / 2))
  return { ...path, keys: [...path.keys, { timeS: last.timeS + Math.round(takesS * 10) / 10, ...stop }] }
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
