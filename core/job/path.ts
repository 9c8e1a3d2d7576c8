import type { Ease, EyePose, LampPath, LampPose, PanelPose, PathKey } from './job.ts'

/** Where lamps, panel and eye are at one moment. */
export interface Standpoint {
  readonly lamp: LampPose
  readonly pose: PanelPose
  /** Further lamps, the job's second first; null: where the job has it. */
  readonly others: readonly (LampPose | null)[]
  /** Null: where the job has it. */
  readonly eye: EyePose | null
}

/** Length of a path, s. */
export const pathLength = (path: LampPath): number => path.keys.at(-1)?.timeS ?? 0

/**
 * Lamps, panel and eye `timeS` into the path; azimuth and turn go the short way round. Where keys say no other, speed
 * has no jumps, each number stays between its two keys, and a key where it turns round is a moment of rest. A closed
 * loop repeats without a seam; any other path rests at both ends and stays there. What only some keys name moves between
 * those, and stands still before the first and after the last of them.
 * Throws RangeError for a path without keys.
 * Source of the slopes: Fritsch & Butland (1984), SIAM J. Sci. Stat. Comput. 5(2), equation 4 (harmonic mean); their
 * limit beside an even stretch, three times the other slope: Fritsch & Carlson (1980), SIAM J. Numer. Anal. 17(2).
 */
export function samplePath(path: LampPath, timeS: number): Standpoint {
  const length = pathLength(path)
  const closed = isClosed(path)
  const at =
    closed && length > 0 ? ((timeS % length) + length) % length : Math.min(length, Math.max(0, timeS))
  const moved = <T extends Numbers>(read: (key: PathKey) => T | null, turning: readonly string[]): T | null =>
    sampleTrack(trackOf(path, read), turning, at, closed)
  const others = Array.from({ length: otherLamps(path) }, (_, i) =>
    moved(key => lampNumbers(key.others[i] ?? null), ['azimuthDeg']),
  )
  const lamp = moved(key => lampNumbers(key.lamp), ['azimuthDeg'])
  const pose = moved(
    ({ pose: { tiltForwardDeg, tiltSideDeg, turnDeg } }) => ({ tiltForwardDeg, tiltSideDeg, turnDeg }),
    ['turnDeg'],
  )
  if (lamp === null || pose === null) throw new RangeError('path: expected at least one key, got none')
  return { lamp, pose, others, eye: moved(key => eyeNumbers(key.eye), []) }
}

/** True for a loop whose last key stands where its first does. */
export function isClosed(path: LampPath): boolean {
  const first = path.keys[0]
  const last = path.keys.at(-1)
  if (!path.loop || first === undefined || last === undefined) return false
  const same = <T extends Numbers>(read: (key: PathKey) => T | null): boolean => {
    const track = trackOf(path, read)
    const [a, b] = [track[0]?.value, track.at(-1)?.value]
    if (a === undefined || b === undefined) return true
    return Object.keys(a).every(
      name => Math.abs(shortWay(b[name]! - a[name]!, turns.has(name) ? 360 : 0)) < 1e-9,
    )
  }
  return (
    same(key => lampNumbers(key.lamp)) &&
    same(key => ({ ...key.pose })) &&
    same(key => eyeNumbers(key.eye)) &&
    Array.from({ length: otherLamps(path) }, (_, i) => i).every(i =>
      same(key => lampNumbers(key.others[i] ?? null)),
    )
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

type Numbers = Readonly<Record<string, number>>

/** What a key says of one thing that moves. */
interface Stop<T> {
  readonly timeS: number
  readonly value: T
  readonly ease: Ease
}

/** Angles that go round. */
const turns: ReadonlySet<string> = new Set(['azimuthDeg', 'turnDeg'])

const otherLamps = (path: LampPath): number => Math.max(0, ...path.keys.map(key => key.others.length))

const lampNumbers = (lamp: LampPose | null) => (lamp === null ? null : { ...lamp })
const eyeNumbers = (eye: EyePose | null) => (eye === null ? null : { ...eye })

/** The keys that name a thing, from the path's beginning to its end. */
function trackOf<T extends Numbers>(path: LampPath, read: (key: PathKey) => T | null): readonly Stop<T>[] {
  const stops = path.keys.flatMap((key): Stop<T>[] => {
    const value = read(key)
    return value === null ? [] : [{ timeS: key.timeS, value, ease: key.ease }]
  })
  const [first, last] = [stops[0], stops.at(-1)]
  if (first === undefined || last === undefined) return stops
  const end = pathLength(path)
  return [
    ...(first.timeS > 0 ? [{ ...first, timeS: 0, ease: 'flow' as const }] : []),
    ...stops,
    ...(last.timeS < end ? [{ ...last, timeS: end, ease: 'flow' as const }] : []),
  ]
}

/** Null for a thing that no key names. */
function sampleTrack<T extends Numbers>(
  track: readonly Stop<T>[],
  turning: readonly string[],
  at: number,
  closed: boolean,
): T | null {
  const first = track[0]
  if (first === undefined) return null
  const times = track.map(stop => stop.timeS)
  const how = track.map(stop => stop.ease)
  const entries = Object.keys(first.value).map(name => {
    const values = unwound(
      track.map(stop => stop.value[name]!),
      turning.includes(name) ? 360 : 0,
    )
    return [name, along(times, values, how, at, closed)]
  })
  return Object.fromEntries(entries) as T
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

/** The value at `t`: a cubic between two keys. */
function along(
  times: readonly number[],
  values: readonly number[],
  how: readonly Ease[],
  t: number,
  closed: boolean,
): number {
  if (times.length === 1) return values[0]!
  let i = 0
  while (i < times.length - 2 && times[i + 1]! <= t) i++
  const span = times[i + 1]! - times[i]!
  const f = (t - times[i]!) / span
  if (how[i] === 'hold') return f < 1 ? values[i]! : values[i + 1]!
  const rise = values[i + 1]! - values[i]!
  if (how[i] === 'even') return values[i]! + f * rise
  const from = slope(times, values, how, i, 'leaving', closed) * span
  const to = slope(times, values, how, i + 1, 'coming', closed) * span
  // Hermite basis, written so that equal ends give exactly that value.
  return values[i]! + f * (from + f * (3 * rise - 2 * from - to + f * (from + to - 2 * rise)))
}

/** Slope at a key; 0 where the values turn round or rest, and at the ends of an open path. */
function slope(
  times: readonly number[],
  values: readonly number[],
  how: readonly Ease[],
  i: number,
  side: 'coming' | 'leaving',
  closed: boolean,
): number {
  const last = times.length - 1
  const end = i === 0 || i === last
  if (end && !closed) return 0
  const before = end ? last - 1 : i - 1
  const after = end ? 0 : i
  if (how[after] === 'rest' || how[after] === 'hold' || how[before] === 'hold') return 0
  const h0 = times[before + 1]! - times[before]!
  const h1 = times[after + 1]! - times[after]!
  const d0 = (values[before + 1]! - values[before]!) / h0
  const d1 = (values[after + 1]! - values[after]!) / h1
  if (d0 * d1 <= 0) return 0
  // Beside an even stretch its speed is met, as far as the value may then not pass its own key.
  if (how[after] === 'even' && side === 'coming') return limited(d1, d0)
  if (how[before] === 'even' && side === 'leaving') return limited(d0, d1)
  const a = (h0 + 2 * h1) / (3 * (h0 + h1))
  return (d0 * d1) / (a * d1 + (1 - a) * d0)
}

const limited = (wanted: number, own: number): number =>
  Math.sign(own) * Math.min(Math.abs(wanted), 3 * Math.abs(own))
