import * as v from 'valibot'
import { BadInput } from '../base/finding.ts'
import { type Job, jobFormat, jobVersion } from './job.ts'
import { placeInJson } from './json-place.ts'
import { type JobRecord, jobSteps, migrate } from './migrate.ts'
import { jobSchema } from './schema.ts'
import { checkStanding } from './standing.ts'

/**
 * A job from the text of its file. Older versions are brought up to date.
 * Throws BadInput, naming the field, for anything that is not a job this version can use.
 * @param name file name, for messages
 */
export function parseJob(text: string, name: string): Job {
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch (error) {
    throw new BadInput(
      'job-malformed',
      name,
      placeInJson(text, error),
      'is not JSON',
      'Choose a job file, or restore it from a copy',
    )
  }
  return checkJob(value, name)
}

/** The same for a value that is already parsed, as a message between window and host holds it. */
export function checkJob(value: unknown, name: string): Job {
  const record = versioned(value, name)
  const parsed = v.safeParse(jobSchema, record)
  if (!parsed.success) throw wrongField(parsed.issues[0], name)
  const job: Job = parsed.output
  if (job.variant !== null && job.variants[job.variant] === undefined)
    throw new BadInput(
      'job-malformed',
      name,
      'field "variant"',
      `expected the index of one of ${job.variants.length} variants, got ${job.variant}`,
      'Correct the field, or restore the file from a copy',
    )
  job.light.lamps.forEach((lamp, i) => {
    checkStanding(lamp, job.view.pose, job.panel, name, `light.lamps.${i}`)
  })
  for (const path of job.paths)
    for (const [i, key] of path.keys.entries()) {
      const where = `path "${path.name}", key ${i + 1}`
      for (const [lamp, pose] of [key.lamp, ...key.others].entries()) {
        const own = job.light.lamps[lamp]
        if (pose === null || own === undefined) continue
        const which = lamp === 0 ? where : `${where}, lamp ${lamp + 1}`
        checkStanding({ ...own, pose }, key.pose, job.panel, name, which)
      }
    }
  return job
}

/** The text of a job's file. */
export function jobText(job: Job): string {
  return `${JSON.stringify(job, null, 2)}\n`
}

function versioned(value: unknown, name: string): JobRecord {
  if (!isRecord(value) || value.format !== jobFormat)
    throw new BadInput(
      'not-a-job',
      name,
      'field "format"',
      `expected "${jobFormat}"`,
      'Choose a job file; art is opened on its own',
    )
  const version = value.version
  if (typeof version !== 'number' || !Number.isInteger(version) || version < 1)
    throw new BadInput(
      'job-malformed',
      name,
      'field "version"',
      `expected a whole number from 1 to ${jobVersion}`,
      'Restore the file from a copy',
    )
  if (version > jobVersion)
    throw new BadInput(
      'job-newer',
      name,
      'field "version"',
      `was saved by a newer rakelight (version ${version}; this one reads up to ${jobVersion})`,
      'Update rakelight on this machine, or make the job again from its art',
    )
  return migrate(value, version, jobVersion, jobSteps)
}

function wrongField(issue: v.BaseIssue<unknown>, name: string): BadInput {
  const path = v.getDotPath(issue)
  return new BadInput(
    'job-malformed',
    name,
    path === null ? 'the file' : `field "${path}"`,
    issue.message,
    'Correct the field, or restore the file from a copy',
  )
}

const isRecord = (value: unknown): value is JobRecord =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
