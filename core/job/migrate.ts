/** A job of some version, before it is known to be right. */
export type JobRecord = Readonly<Record<string, unknown>>

/**
 * One step a version: `steps[n]` makes a job of version n + 1 from one of version n, and sets its `version`.
 * A step only moves and fills fields; what is wrong with a value is said afterwards by the schema.
 */
export type MigrationSteps = Readonly<Record<number, (job: JobRecord) => JobRecord>>

/** Version 1 is the first, so there is no older one to start from. */
export const jobSteps: MigrationSteps = {}

/**
 * Takes a job step by step to `current`.
 * Throws RangeError when a step is missing or leaves another version than it should.
 */
export function migrate(job: JobRecord, version: number, current: number, steps: MigrationSteps): JobRecord {
  let migrated = job
  for (let from = version; from < current; from++) {
    const step = steps[from]
    if (step === undefined) throw new RangeError(`job: no step from version ${from} to ${from + 1}`)
    migrated = step(migrated)
    if (migrated.version !== from + 1)
      throw new RangeError(`job: the step from version ${from} left version ${String(migrated.version)}`)
  }
  return migrated
}
