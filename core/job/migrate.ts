import { newBoard, newPrint, newWhiteInk, usualLux } from './usual.ts'

/** A job of some version, before it is known to be right. */
export type JobRecord = Readonly<Record<string, unknown>>

/**
 * One step a version: `steps[n]` makes a job of version n + 1 from one of version n, and sets its `version`.
 * A step only moves and fills fields; what is wrong with a value is said afterwards by the schema.
 */
export type MigrationSteps = Readonly<Record<number, (job: JobRecord) => JobRecord>>

export const jobSteps: MigrationSteps = { 1: toVersion2, 2: toVersion3 }

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

/** One lamp becomes the first of several, with a light level; opacity says how it was measured; board and print say more. */
function toVersion2(job: JobRecord): JobRecord {
  const { lamp, illuminant, ...light } = record(job.light)
  const whites = Array.isArray(job.whites) ? job.whites.map(record) : job.whites
  return {
    ...job,
    version: 2,
    whites: Array.isArray(whites)
      ? whites.map(white => ({ ...white, opacity: { from: 'contrast', value: white.opacity }, mottle: 0 }))
      : whites,
    measured: [],
    board: { ...newBoard, ...record(job.board) },
    whiteInk: newWhiteInk,
    print: newPrint,
    light: {
      lamps: [
        { name: 'Lamp', pose: lamp, form: { kind: 'disc' }, illuminant, spectrum: null, lux: usualLux },
      ],
      ...light,
    },
    view: { anchorLux: null, displayWhite: 'D65', ...record(job.view) },
  }
}

/** The flat panel becomes a carton. */
function toVersion3(job: JobRecord): JobRecord {
  return {
    brief: '',
    carton: null,
    sketch: { whitePart: 0 },
    variants: [],
    variant: null,
    aside: {},
    outlines: [],
    presets: [],
    nestTurnDeg: 0,
    ...job,
    version: 3,
  }
}

/** Anything that is no record has no fields; the schema says later what is wrong with it. */
function record(value: unknown): JobRecord {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as JobRecord) : {}
}
