import type { Ease, LampPath, PathKey } from './job.ts'
import { isClosed, pathLength, type Standpoint, samplePath } from './path.ts'
import { calmDegreesPerSecond, travel } from './travel.ts'

/**
 * Edits of a path's keys. A path keeps at least one key, the first at 0 s, and keys in the order of their times. The
 * last key of a closed loop is its first again: what is done to one of the two is done to both.
 */

/** Two keys are never nearer than this, s. */
export const leastGapS = 0.1

/** A stop that is added at the end is never nearer to the one before than this, s. */
const shortestStopS = 0.5

/** Longest path, s: a day. */
const longestS = 86_400

/** A changed path and the key that is then the chosen one. */
export interface Keyed {
  readonly path: LampPath
  readonly index: number
}

/** What lies at a moment as a key of its own; a key that is already there is kept and takes the standpoint. */
export function addKey(path: LampPath, timeS: number, stood: Standpoint = samplePath(path, timeS)): Keyed {
  const at = round(Math.min(longestS, Math.max(0, timeS)))
  const near = path.keys.findIndex(key => Math.abs(key.timeS - at) < leastGapS - 1e-9)
  if (near >= 0) return { path: setKey(path, near, stood), index: near }
  const after = path.keys.findIndex(key => key.timeS > at)
  const index = after < 0 ? path.keys.length : after
  const before = path.keys[index - 1]
  const key: PathKey = { timeS: at, ...stood, ease: before?.ease === 'even' ? 'even' : 'flow' }
  return { path: { ...path, keys: path.keys.toSpliced(index, 0, key) }, index }
}

/** One more stop at the end, reached at half the calm pace: speed between stops is not even. */
export function withStop(path: LampPath, stop: Standpoint): LampPath {
  const last = path.keys.at(-1)
  if (last === undefined) return { ...path, keys: [{ timeS: 0, ...stop, ease: 'flow' }] }
  return {
    ...path,
    keys: [...path.keys, { timeS: round(last.timeS + calmTime(last, stop)), ...stop, ease: 'flow' }],
  }
}

/** Moves a key in time, between its neighbours; the first stays at 0 s. The last moves the path's end. */
export function moveKey(path: LampPath, index: number, timeS: number): LampPath {
  const before = path.keys[index - 1]
  if (before === undefined) return path
  const after = path.keys[index + 1]
  const most = after === undefined ? longestS : after.timeS - leastGapS
  const least = before.timeS + leastGapS
  if (most < least) return path
  return replace(path, index, { timeS: round(Math.min(most, Math.max(least, timeS))) })
}

/** Takes a key out; what followed a first key begins at 0 s. The only key stays. */
export function removeKey(path: LampPath, index: number): Keyed {
  if (path.keys.length < 2 || path.keys[index] === undefined) return { path, index: Math.max(0, index) }
  const keys = path.keys.toSpliced(index, 1)
  const start = keys[0]!.timeS
  return {
    path: { ...path, keys: keys.map(key => ({ ...key, timeS: round(key.timeS - start) })) },
    index: Math.min(index, keys.length - 1),
  }
}

/**
 * The same key once more: halfway to the next one, or after the last as long as the way before it took. It stands where
 * the key stands, so that the path waits there.
 */
export function copyKey(path: LampPath, index: number): Keyed {
  const key = path.keys[index]
  if (key === undefined) return { path, index }
  const next = path.keys[index + 1]
  const before = path.keys[index - 1]
  const gap = next === undefined ? key.timeS - (before?.timeS ?? key.timeS - 2) : (next.timeS - key.timeS) / 2
  if (gap < leastGapS) return { path, index }
  const copy = { ...key, timeS: round(Math.min(longestS, key.timeS + gap)) }
  return { path: { ...path, keys: path.keys.toSpliced(index + 1, 0, copy) }, index: index + 1 }
}

/** Where lamps, panel and eye are at a key, as far as it is changed. */
export function setKey(path: LampPath, index: number, change: Partial<Standpoint>): LampPath {
  const changed = replace(path, index, change)
  const last = path.keys.length - 1
  if (last < 1 || !isClosed(path) || (index !== 0 && index !== last)) return changed
  return replace(changed, last - index, change)
}

export function setEase(path: LampPath, index: number, ease: Ease): LampPath {
  return replace(path, index, { ease })
}

/** A further lamp (0 = the job's second) at a key; null leaves it to the other keys. */
export function setOther(
  path: LampPath,
  index: number,
  lamp: number,
  pose: PathKey['lamp'] | null,
): LampPath {
  const key = path.keys[index]
  if (key === undefined) return path
  const others = Array.from({ length: Math.max(key.others.length, lamp + 1) }, (_, i) =>
    i === lamp ? pose : (key.others[i] ?? null),
  )
  while (others.length > 0 && others.at(-1) === null) others.pop()
  return setKey(path, index, { others })
}

/** The whole path faster or slower. */
export function setDuration(path: LampPath, seconds: number): LampPath {
  const length = pathLength(path)
  if (length === 0) return path
  const least = leastGapS * (path.keys.length - 1)
  const scale = Math.min(longestS, Math.max(least, seconds)) / length
  return { ...path, keys: path.keys.map(key => ({ ...key, timeS: round(key.timeS * scale) })) }
}

/** A loop gets the way back to its beginning, unless it ends there. */
export function setLoop(path: LampPath, loop: boolean): LampPath {
  const looped = { ...path, loop }
  const first = path.keys[0]
  if (!loop || first === undefined || path.keys.length < 2 || isClosed(looped)) return looped
  const { timeS: _, ease: __, ...start } = first
  return withStop(looped, start)
}

/** Time for the way between two standpoints at half the calm pace, s. */
function calmTime(from: Standpoint, to: Standpoint): number {
  return Math.max(shortestStopS, travel(from, to) / (calmDegreesPerSecond / 2))
}

function replace(path: LampPath, index: number, change: Partial<PathKey>): LampPath {
  if (path.keys[index] === undefined) return path
  return { ...path, keys: path.keys.map((key, i) => (i === index ? { ...key, ...change } : key)) }
}

/** Hundredths of a second, as the track shows them. */
const round = (seconds: number): number => Math.round(seconds * 100) / 100
