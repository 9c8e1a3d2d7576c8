import type { LampPath, LampPose, PanelPose } from './job.ts'

/** Where lamp and panel stand at one moment. */
export interface Standpoint {
  readonly lamp: LampPose
  readonly pose: PanelPose
}

/** Length of a path, s. */
export const pathLength = (path: LampPath): number => path.keys.at(-1)?.timeS ?? 0

/**
 * Lamp and panel `timeS` into the path; azimuth and turn go the short way round. Smooth: speed has no jumps, each
 * number stays between its two keys, and a key where it turns round is a moment of rest. A closed loop repeats
 * without a seam; any other path rests at both ends and stays there.
 * Throws RangeError for a path without keys.
 * Source of the slopes: Fritsch & Butland (1984), SIAM J. Sci. Stat. Comput. 5(2), equation 4 (harmonic mean).
 */
export function samplePath(path: LampPath, timeS: number): Standpoint {
  const length = pathLength(path)
  const closed = isClosed(path)
  const at =
    closed && length > 0 ? ((timeS % length) + length) % length : Math.min(length, Math.max(0, timeS))
  const times = path.keys.map(key => key.timeS)
  const channel = (read: (key: Standpoint) => number, turn = 0): number =>
    cubic(times, unwound(path.keys.map(read), turn), at, closed)
  return {
    lamp: {
      azimuthDeg: channel(key => key.lamp.azimuthDeg, 360),
      elevationDeg: channel(key => key.lamp.elevationDeg),
      distanceMm: channel(key => key.lamp.distanceMm),
      diameterMm: channel(key => key.lamp.diameterMm),
    },
    pose: {
      tiltForwardDeg: channel(key => key.pose.tiltForwardDeg),
      tiltSideDeg: channel(key => key.pose.tiltSideDeg),
      turnDeg: channel(key => key.pose.turnDeg, 360),
    },
  }
}

/** True for a loop whose last key stands where its first does. */
export function isClosed(path: LampPath): boolean {
  const first = path.keys[0]
  const last = path.keys.at(-1)
  if (!path.loop || first === undefined || last === undefined) return false
  const same = (a: number, b: number, turn = 0) => Math.abs(shortWay(b - a, turn)) < 1e-9
  return (
    same(first.lamp.azimuthDeg, last.lamp.azimuthDeg, 360) &&
    same(first.lamp.elevationDeg, last.lamp.elevationDeg) &&
    same(first.lamp.distanceMm, last.lamp.distanceMm) &&
    same(first.lamp.diameterMm, last.lamp.diameterMm) &&
    same(first.pose.tiltForwardDeg, last.pose.tiltForwardDeg) &&
    same(first.pose.tiltSideDeg, last.pose.tiltSideDeg) &&
    same(first.pose.turnDeg, last.pose.turnDeg, 360)
  )
}

/**
 * Moments of `count` frames, s: from the first key to the last; a closed loop leaves out its end, which is its
 * beginning again, so that the frames repeat evenly.
 */
export function frameTimes(path: LampPath, count: number): readonly number[] {
  const steps = isClosed(path) ? count : Math.max(1, count - 1)
  return Array.from({ length: count }, (_, i) => (pathLength(path) * i) / steps)
}

/** Difference of two angles with full turns taken out; `turn` 0 leaves it alone. */
function shortWay(difference: number, turn: number): number {
  return turn === 0 ? difference : difference - turn * Math.round(difference / turn)
}

function unwound(values: readonly number[], turn: number): readonly number[] {
  const out = values.slice(0, 1)
  for (const value of values.slice(1)) out.push(out.at(-1)! + shortWay(value - out.at(-1)!, turn))
  return out
}

/** Piecewise cubic through the keys. */
function cubic(times: readonly number[], values: readonly number[], t: number, closed: boolean): number {
  if (values.length === 0) throw new RangeError('path: expected at least one key, got none')
  let i = 0
  while (i < times.length - 2 && times[i + 1]! <= t) i++
  if (times.length === 1) return values[0]!
  const span = times[i + 1]! - times[i]!
  const f = (t - times[i]!) / span
  const from = slope(times, values, i, closed) * span
  const to = slope(times, values, i + 1, closed) * span
  const rise = values[i + 1]! - values[i]!
  // Hermite basis, written so that equal ends give exactly that value.
  return values[i]! + f * (from + f * (3 * rise - 2 * from - to + f * (from + to - 2 * rise)))
}

/** Slope at a key; 0 where the values turn round, and at the ends of an open path. */
function slope(times: readonly number[], values: readonly number[], i: number, closed: boolean): number {
  const last = times.length - 1
  const end = i === 0 || i === last
  if (end && !closed) return 0
  const before = end ? last - 1 : i - 1
  const after = end ? 0 : i
  const h0 = times[before + 1]! - times[before]!
  const h1 = times[after + 1]! - times[after]!
  const d0 = (values[before + 1]! - values[before]!) / h0
  const d1 = (values[after + 1]! - values[after]!) / h1
  if (d0 * d1 <= 0) return 0
  const a = (h0 + 2 * h1) / (3 * (h0 + h1))
  return (d0 * d1) / (a * d1 + (1 - a) * d0)
}
