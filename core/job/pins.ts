import type { Job, Pin } from './job.ts'

/** Edits of a job's pins; each has a name of its own. */
type Edit = (job: Job) => Job

/** Most pins of a job. */
export const mostPins = 200

/** Two pins nearer than this are one, mm. */
const samePlaceMm = 0.05

/** Keeps a spot under the first free name; a spot that is kept already stays as it is. */
export const addPin =
  (xMm: number, yMm: number): Edit =>
  job =>
    job.pins.length >= mostPins || pinAt(job.pins, xMm, yMm) !== null
      ? job
      : { ...job, pins: [...job.pins, { name: freeName(job.pins), xMm, yMm }] }

/** A name that is empty or taken changes nothing. */
export const renamePin =
  (index: number, name: string): Edit =>
  job => {
    const given = name.trim()
    const taken = job.pins.some((pin, i) => i !== index && pin.name === given)
    if (given === '' || taken || job.pins[index] === undefined) return job
    return { ...job, pins: job.pins.map((pin, i) => (i === index ? { ...pin, name: given } : pin)) }
  }

export const removePin =
  (index: number): Edit =>
  job =>
    job.pins[index] === undefined ? job : { ...job, pins: job.pins.toSpliced(index, 1) }

/** Index of the pin at a spot; null where none is. */
export function pinAt(pins: readonly Pin[], xMm: number, yMm: number): number | null {
  const found = pins.findIndex(pin => Math.hypot(pin.xMm - xMm, pin.yMm - yMm) < samePlaceMm)
  return found < 0 ? null : found
}

function freeName(pins: readonly Pin[]): string {
  const taken = new Set(pins.map(pin => pin.name))
  let n = pins.length + 1
  while (taken.has(`Spot ${n}`)) n++
  return `Spot ${n}`
}
