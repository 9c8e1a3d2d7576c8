import * as v from 'valibot'
import { canonicalJson } from '../base/canonical-json.ts'
import { BadInput } from '../base/finding.ts'
import { sha256Hex } from '../base/sha256.ts'
import { checkJob } from '../job/parse.ts'
import { fields, list, oneOf, sha256, wants } from '../job/schema/value.ts'
import { checkFields, instant, isRecord, shortText } from './schema.ts'
import { type ProofVersion, sourceKinds } from './version.ts'

const mostSources = 70_000

const schema = fields({
  id: sha256,
  jobName: shortText('the name of a job', 1000),
  madeAt: instant,
  program: shortText('a version', 100),
  data: shortText('a version', 100),
  sources: v.pipe(
    list(
      fields({
        kind: oneOf(sourceKinds),
        name: shortText('the name of a file', 4000),
        sha256,
        bytes: v.pipe(
          v.number(wants('a size in bytes')),
          v.safeInteger(wants('a size in bytes')),
          v.minValue(0, wants('a size in bytes')),
        ),
      }),
    ),
    v.maxLength(mostSources, `expected at most ${mostSources} sources`),
  ),
  job: v.unknown(),
  jobSha256: sha256,
})

/**
 * A version as a file or a proof holds it. Its job may be of an older version of the job's format: it is brought up to
 * date, and both hashes stay those of what was there then.
 * Throws BadInput, naming the field, when it is none, was made with a newer job, or is not what its hashes say.
 * @param name of the file it comes from, for messages
 */
export function checkVersion(value: unknown, name: string): ProofVersion {
  const version = checkFields(schema, value, name, { code: 'version' })
  const job = checkJob(version.job, name)
  const held = isRecord(value) ? value : {}
  const { id, ...rest } = held
  if (hashOf(version.job) !== version.jobSha256) throw changed(name, 'field "job"', 'jobSha256')
  if (hashOf(rest) !== id) throw changed(name, 'the version', 'id')
  return { ...version, job }
}

/** A text with half a character has no hash: it is then not what was signed either. */
function hashOf(value: unknown): string | null {
  try {
    return sha256Hex(canonicalJson(value))
  } catch {
    return null
  }
}

const changed = (name: string, where: string, field: string): BadInput =>
  new BadInput(
    'version-changed',
    name,
    where,
    `is not what its hash "${field}" says: it was changed after it was made`,
    'Ask for the file again, or make a new proof',
  )
