import type { Art } from '../art/layer.ts'
import { platesOf } from '../material/plates.ts'
import { statedWhite } from '../material/stated.ts'
import type { Assigned } from '../roles/role.ts'
import { assumedOfBoard } from './assumed/board.ts'
import { assumedOfFilm } from './assumed/film.ts'
import { assumedOfLight, assumedOfPrint } from './assumed/light.ts'
import type { AssumedNumber } from './assumed/number.ts'
import { assumedOfRelief } from './assumed/relief.ts'
import { assumedOfWhite, type NamedPlate } from './assumed/white.ts'
import { setMeasured } from './edit.ts'
import type { Job } from './job.ts'

export type { AssumedGroup, AssumedNumber, AssumedStatus } from './assumed/number.ts'

/** Art and roles, which say what white plates there are. */
export interface AssumedArt {
  readonly art: Art
  readonly assigned: readonly Assigned[]
}

/** Every number of a job that was assumed or, by its note, measured. Keys are unique. */
export function assumedNumbers(job: Job, art: AssumedArt | null = null): readonly AssumedNumber[] {
  return [
    ...assumedOfRelief(job),
    ...assumedOfBoard(job),
    ...assumedOfWhite(job, art === null ? [] : whitePlates(art)),
    ...assumedOfPrint(job),
    ...assumedOfFilm(job),
    ...assumedOfLight(job),
  ]
}

/** The note that a number was measured, or null while it is assumed. */
export function measuredNote(job: Job, key: string): string | null {
  return job.measured.find(one => one.key === key)?.note ?? null
}

/**
 * Takes another value; a note about a measurement of the old one is taken back.
 * Throws RangeError for a number outside its field, or one that is set elsewhere.
 */
export const setAssumed =
  (number: AssumedNumber, value: number) =>
  (job: Job): Job => {
    const { field, key } = number
    if (field === null) throw new RangeError(`${key}: is not set as a number`)
    if (!(value >= field.min && value <= field.max))
      throw new RangeError(`${key}: expected ${field.min} to ${field.max} ${number.unit}, got ${value}`)
    return setMeasured(key, '')(field.set(value)(job))
  }

function whitePlates({ art, assigned }: AssumedArt): readonly NamedPlate[] {
  const roles = new Map(assigned.map(one => [`${one.target.kind} ${one.target.id}`, one]))
  return platesOf(art, 'white', roles, []).map(({ name, target }) => ({
    name,
    target,
    stated: statedWhite(art, target),
  }))
}
