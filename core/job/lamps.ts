import { type Lamp, mostLamps } from '../reference/scene.ts'
import type { Job, LampPath } from './job.ts'

/** Edits of a job's lamps; the first is the one in the hand. A place that there is not leaves the job alone. */
type Edit = (job: Job) => Job

type Lamps = Job['light']['lamps']

export const setLamp =
  (index: number, change: Partial<Lamp>): Edit =>
  job =>
    job.light.lamps[index] === undefined
      ? job
      : withLamps(
          job,
          job.light.lamps.map((lamp, i) => (i === index ? { ...lamp, ...change } : lamp)),
        )

/** Puts one more lamp on the table: like the one given, and as far round it as leaves no lamp over another. */
export const addLamp =
  (like: Lamp): Edit =>
  job =>
    job.light.lamps.length >= mostLamps
      ? job
      : withLamps(job, [
          ...job.light.lamps,
          {
            ...like,
            name: freeName(job.light.lamps),
            pose: { ...like.pose, azimuthDeg: freeAzimuth(like.pose.azimuthDeg, job.light.lamps) },
          },
        ])

/** The last one stays, and so does the only one that burns: a picture needs light. */
export const removeLamp =
  (index: number): Edit =>
  job =>
    mayRemove(job.light.lamps, index)
      ? withLamps(
          { ...job, paths: job.paths.map(path => withoutLamp(path, index)) },
          job.light.lamps.filter((_, i) => i !== index),
        )
      : job

export function mayRemove(lamps: Lamps, index: number): boolean {
  return lamps.some((lamp, i) => i !== index && lamp.lux > 0)
}

/** Paths go on moving the lamp in the hand, whichever that is then. */
function withoutLamp(path: LampPath, index: number): LampPath {
  const gone = Math.max(1, index) - 1
  if (!path.keys.some(key => gone < key.others.length)) return path
  return {
    ...path,
    keys: path.keys.map(key => ({ ...key, others: key.others.filter((_, i) => i !== gone) })),
  }
}

function withLamps(job: Job, lamps: readonly Lamp[]): Job {
  const [hand, ...others] = lamps
  return hand === undefined ? job : { ...job, light: { ...job.light, lamps: [hand, ...others] } }
}

/** Thirds of a turn first, then the middles between them: more places than there may be other lamps. */
const turnsOn = [120, 240, 60, 180, 300]

/** Lamps nearer than this in azimuth hide each other's handles, degrees. */
const apartDeg = 15

function freeAzimuth(from: number, lamps: Lamps): number {
  const places = turnsOn.map(on => ((from + on + 180) % 360) - 180)
  const free = places.find(place => lamps.every(({ pose }) => away(pose.azimuthDeg, place) >= apartDeg))
  return free ?? places[0]!
}

const away = (a: number, b: number): number => Math.abs(((((a - b + 180) % 360) + 360) % 360) - 180)

function freeName(lamps: Lamps): string {
  const taken = new Set(lamps.map(lamp => lamp.name))
  let n = lamps.length + 1
  while (taken.has(`Lamp ${n}`)) n++
  return `Lamp ${n}`
}
