import type { LampPath, LampPose, PanelPose } from '../../core/job/job.ts'
import { lampTravel } from './angles.ts'
import type { RunView } from './state.ts'

/** Above this, lit holography can strobe; a light run that was not asked to hurry stays below. */
export const calmDegreesPerSecond = 10

/** Where lamp and panel stand at one moment. */
export interface Standpoint {
  readonly lamp: LampPose
  readonly pose: PanelPose
}

/** Length of a path, s. */
export const runLength = (path: LampPath): number => path.keys.at(-1)?.timeS ?? 0

/**
 * Lamp and panel `timeS` into the path: straight lines between the keys, azimuth and turn the short way round.
 * Null when the path has no keys.
 */
export function standAt(path: LampPath, timeS: number): Standpoint | null {
  const { keys } = path
  const next = keys.findIndex(key => key.timeS >= timeS)
  const b = keys[next === -1 ? keys.length - 1 : next]
  const a = keys[Math.max(0, (next === -1 ? keys.length : next) - 1)]
  if (a === undefined || b === undefined) return null
  const span = b.timeS - a.timeS
  const f = span > 0 ? Math.min(1, Math.max(0, (timeS - a.timeS) / span)) : 1
  return {
    lamp: {
      azimuthDeg: between(a.lamp.azimuthDeg, b.lamp.azimuthDeg, f, 360),
      elevationDeg: between(a.lamp.elevationDeg, b.lamp.elevationDeg, f),
      distanceMm: between(a.lamp.distanceMm, b.lamp.distanceMm, f),
      diameterMm: between(a.lamp.diameterMm, b.lamp.diameterMm, f),
    },
    pose: {
      tiltForwardDeg: between(a.pose.tiltForwardDeg, b.pose.tiltForwardDeg, f),
      tiltSideDeg: between(a.pose.tiltSideDeg, b.pose.tiltSideDeg, f),
      turnDeg: between(a.pose.turnDeg, b.pose.turnDeg, f, 360),
    },
  }
}

/** How far lamp and panel move between two standpoints, degrees: the larger of the two. */
export function travel(a: Standpoint, b: Standpoint): number {
  return Math.max(
    lampTravel(a.lamp, b.lamp),
    Math.abs(a.pose.tiltForwardDeg - b.pose.tiltForwardDeg),
    Math.abs(a.pose.tiltSideDeg - b.pose.tiltSideDeg),
    Math.abs(shortWay(a.pose.turnDeg, b.pose.turnDeg)),
  )
}

/**
 * The run `elapsedS` of wall time later. At a calm pace neither lamp nor panel moves faster than
 * {@link calmDegreesPerSecond}, whatever the path's own times say. A loop that does not end where it starts
 * stops at its end, because jumping back would flash.
 */
export function advanced(run: RunView, path: LampPath, elapsedS: number): RunView {
  const length = runLength(path)
  const from = run.timeS ?? 0
  let step = elapsedS
  if (run.pace === 'calm') step = calmStep(path, from, elapsedS)
  const timeS = from + step
  if (timeS < length) return { ...run, timeS }
  if (path.loop && length > 0 && isClosed(path)) return { ...run, timeS: timeS % length }
  return { ...run, timeS: length, playing: false }
}

/** True when the path ends where it starts. */
export function isClosed(path: LampPath): boolean {
  const first = path.keys[0]
  const last = path.keys.at(-1)
  return first !== undefined && last !== undefined && travel(first, last) < 0.5
}

/** The longest step along the path, s, not above `elapsedS`, that keeps the pace calm. */
function calmStep(path: LampPath, from: number, elapsedS: number): number {
  const most = calmDegreesPerSecond * elapsedS
  const here = standAt(path, from)
  let step = elapsedS
  // The angle is nearly linear in the step, so two or three corrections meet the limit.
  for (let i = 0; i < 8; i++) {
    const there = standAt(path, from + step)
    if (here === null || there === null) return step
    const moved = travel(here, there)
    if (moved <= most) return step
    step *= (0.999 * most) / moved
  }
  return step
}

const between = (a: number, b: number, f: number, round?: number): number =>
  a + (round === undefined ? b - a : shortWay(a, b)) * f

/** From one angle to another the short way round, degrees in [−180, 180). */
const shortWay = (a: number, b: number): number => ((((b - a + 180) % 360) + 360) % 360) - 180
