import type { Job } from '../job.ts'

/** How sure a default is: printed, worked out, remembered, a habit of the trade, only our proposal, or stated by the art. */
export type AssumedStatus =
  | 'published'
  | 'computed'
  | 'from memory'
  | 'common practice'
  | 'proposed'
  | 'from the file'

export type AssumedGroup = 'Holography' | 'Board' | 'White' | 'Print' | 'Light and eye'

/** A number that stands in the picture until somebody measures it. */
export interface AssumedNumber {
  /** Its name in the job's list of measurements. */
  readonly key: string
  readonly group: AssumedGroup
  readonly name: string
  /** What it is and where it is used, in plain words. */
  readonly says: string
  readonly unit: string
  /** What the job has now, and what a fresh job has; a word where it is no single number. */
  readonly value: number | string
  readonly usual: number | string
  /** What is plausible; null where it is no number. */
  readonly range: readonly [number, number] | null
  readonly status: AssumedStatus
  readonly source: string
  /** How to measure it. */
  readonly measure: string
  /** How the field takes it; null where it is set elsewhere or not at all. */
  readonly field: AssumedField | null
}

export interface AssumedField {
  readonly min: number
  readonly max: number
  readonly step: number
  readonly digits: number
  set(value: number): (job: Job) => Job
}

/** A field from its limits; `digits` follow from the step. */
export function field(
  [min, max]: readonly [number, number],
  step: number,
  set: (value: number) => (job: Job) => Job,
): AssumedField {
  const digits = Math.max(0, Math.ceil(-Math.log10(step) - 1e-9))
  return { min, max, step, digits, set }
}
