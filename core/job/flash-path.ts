import type { FlashStretch } from '../reference/flash.ts'
import { mostFlashes } from '../reference/flash.ts'
import type { LampPath } from './job.ts'
import { isClosed, pathLength } from './path.ts'

/**
 * Frames a second at which a path is judged. A flash must last a frame to be seen: at 10° a second, the pace of calm
 * paths, a frame is a third of a degree, less than any lamp's own width.
 */
export const judgedRate = 30

/** Longest stretch of a path that is judged, s: past it the same goes on. */
export const longestJudgedS = 300

/** Times of the frames that are judged, s. A closed loop goes on for a second, so that its seam is judged too. */
export function judgedTimes(path: LampPath): readonly number[] {
  const length = pathLength(path)
  if (length === 0) return [0]
  const end = Math.min(longestJudgedS, length + (isClosed(path) ? 1 : 0))
  return Array.from({ length: Math.floor(end * judgedRate) + 1 }, (_, i) => i / judgedRate)
}

/** Tries before damping gives up: each makes what flashes at least a quarter slower. */
export const dampTries = 8

/**
 * The path slower where it flashes too often, by what its flashes a second ask for and a little more; stops and jumps
 * there become a flowing way. What comes after moves back in time.
 */
export function damped(path: LampPath, stretches: readonly FlashStretch[]): LampPath {
  const length = pathLength(path)
  let shift = 0
  const keys = path.keys.map((key, i) => {
    const before = path.keys[i - 1]
    if (before !== undefined) {
      const flashes = flashesBetween(before.timeS, key.timeS, length, stretches)
      const slower = flashes === 0 ? 1 : Math.max(1.25, (1.15 * flashes) / mostFlashes)
      shift += (key.timeS - before.timeS) * (slower - 1)
    }
    const leaving = path.keys[i + 1]
    const rough = leaving !== undefined && flashesBetween(key.timeS, leaving.timeS, length, stretches) > 0
    return {
      ...key,
      timeS: Math.round((key.timeS + shift) * 100) / 100,
      ease: rough ? ('flow' as const) : key.ease,
    }
  })
  return { ...path, keys }
}

/**
 * A path damped until it passes, or as far as the tries go.
 * @param judge what flashes too often on a path; null when it was given up, and so is the damping
 */
export async function calmed(
  from: LampPath,
  judge: (path: LampPath) => Promise<readonly FlashStretch[] | null>,
): Promise<{ readonly path: LampPath; readonly left: readonly FlashStretch[] } | null> {
  let path = from
  for (let tried = 0; ; tried++) {
    const left = await judge(path)
    if (left === null) return null
    if (left.length === 0 || tried === dampTries) return { path, left }
    path = damped(path, left)
  }
}

/** Most flashes a second of what was found between two moments; past the end a loop is at its beginning again. */
function flashesBetween(
  fromS: number,
  toS: number,
  length: number,
  stretches: readonly FlashStretch[],
): number {
  const meets = (a: number, b: number): boolean => a < toS && b > fromS
  return stretches.reduce(
    (most, one) =>
      meets(one.fromS, one.toS) || (one.toS > length && meets(one.fromS - length, one.toS - length))
        ? Math.max(most, one.flashes)
        : most,
    0,
  )
}
