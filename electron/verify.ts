import { basename, dirname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { checkCancelled, type Task } from '../core/base/task.ts'
import type { Job } from '../core/job/job.ts'
import { parseJob } from '../core/job/parse.ts'
import { jobChanges } from '../core/proof/changes.ts'
import { changedLayers, rolesTouched, type SignedLayer } from '../core/proof/layers.ts'
import { type Broken, brokenIn, parseRecord } from '../core/proof/read-signoff.ts'
import { type Round, roundOf } from '../core/proof/round.ts'
import type { SignoffRecord } from '../core/proof/signoff.ts'
import { type SignoffStanding, signedVersion, standing } from '../core/proof/standing.ts'
import type { ProofSource, ProofVersion } from '../core/proof/version.ts'
import type { RoleName } from '../core/roles/role.ts'
import { artLayers } from './art-layers.ts'
import { hashFile } from './hash-file.ts'
import { findBeside } from './job-art.ts'
import { passwordName, placeArt } from './open-job.ts'
import { readText } from './read-text.ts'
import { textOrNull } from './shared-file.ts'

/** What was looked at again, and whether it is as it was signed. */
export interface Verified {
  readonly what: 'record' | 'job' | 'proof' | 'earlier record' | ProofSource['kind']
  readonly name: string
  readonly state: 'same' | 'changed' | 'missing' | 'outside'
  /** What differs, in words; empty where nothing does. */
  readonly says: string
}

export interface Verification {
  readonly record: SignoffRecord
  readonly round: Round
  readonly lines: readonly Verified[]
  /** Against job and files as they are; null where the record itself cannot be trusted. */
  readonly standing: SignoffStanding | null
}

/**
 * Looks at everything again that a record names: itself, the job, its files and the proof, beside it.
 * Rejects with BadInput where the record cannot be read.
 * @param jobPath      the job, its files beside it; null = it lies beside the record under its own name
 * @param allowOutside the user agreed to read files outside the job's folder
 */
export async function verifyRecord(
  path: string,
  jobPath: string | null,
  allowOutside: boolean,
  task?: Task,
): Promise<Verification> {
  const name = basename(path)
  const text = await readText(path, true)
  const record = parseRecord(text, name)
  const broken = brokenIn(record, text)
  const lines: Verified[] = [recordLine(name, broken)]
  const round = roundOf(record)
  if (broken.some(one => one.where !== 'its layout')) return { record, round, lines, standing: null }

  const signed = signedVersion(record, name)
  // The name is of a file beside the record, whatever the record says.
  const beside = jobPath ?? join(dirname(path), basename(signed.jobName))
  const job = await jobNow(beside, signed)
  lines.push(job.line)
  const sources: ProofSource[] = []
  let layers: readonly RoleName[] | null = null
  for (const source of signed.sources) {
    checkCancelled(task)
    const { line, sha256 } = await fileNow(beside, source, source.kind, allowOutside, task)
    if (source.kind === 'art' && line.state === 'changed' && record.layers.length > 0) {
      const now = await layersNow(beside, job.job ?? signed.job, allowOutside, task)
      layers = rolesTouched(record.layers, now)
      lines.push({ ...line, says: layerWords(changedLayers(record.layers, now), now.length > 0) })
    } else lines.push(line)
    if (sha256 !== null) sources.push({ ...source, sha256 })
  }
  if (record.proof !== null)
    lines.push((await fileNow(beside, record.proof, 'proof', allowOutside, task)).line)
  if (record.supersedes !== null) lines.push(await earlierLine(path, record.supersedes))
  const now = { job: job.job ?? signed.job, sources }
  return { record, round, lines, standing: standing(signed, now, layers) }
}

/** Parts of the art as it lies there now; none where a file of it is not to be had. */
async function layersNow(
  jobPath: string,
  job: Job,
  allowOutside: boolean,
  task?: Task,
): Promise<readonly SignedLayer[]> {
  if (job.art === null) return []
  try {
    const placed = await placeArt(jobPath, job.art, allowOutside, process.env[passwordName] ?? null)
    return await artLayers(placed, job, task)
  } catch (error) {
    if (error instanceof BadInput) return []
    throw error
  }
}

/** Whether everything is as it was signed. An earlier record that was moved away takes nothing from this one. */
export const isAsSigned = ({ lines }: Pick<Verification, 'lines'>): boolean =>
  lines.every(({ what, state }) => state === 'same' || (what === 'earlier record' && state === 'missing'))

const recordLine = (name: string, broken: readonly Broken[]): Verified => ({
  what: 'record',
  name,
  state: broken.length === 0 ? 'same' : 'changed',
  says: broken.map(one => `${one.where} ${one.message}`).join('; '),
})

async function jobNow(jobPath: string, signed: ProofVersion) {
  const name = basename(jobPath)
  const line = (state: Verified['state'], says = ''): Verified => ({ what: 'job', name, state, says })
  const text = await textOrNull(jobPath)
  if (text === null) return { line: line('missing', 'is not there'), job: null }
  try {
    const job = parseJob(text, name)
    const changes = jobChanges(signed.job, job)
    const says = changes.map(one => one.words).join('; ')
    return { line: changes.length === 0 ? line('same') : line('changed', says), job }
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return { line: line('changed', `${error.where}: ${error.problem}`), job: null }
  }
}

async function fileNow(
  jobPath: string,
  { name, sha256, bytes }: { readonly name: string; readonly sha256: string; readonly bytes: number },
  what: Verified['what'],
  allowOutside: boolean,
  task?: Task,
): Promise<{ readonly line: Verified; readonly sha256: string | null }> {
  const line = (state: Verified['state'], says = ''): Verified => ({ what, name, state, says })
  const place = await findBeside(jobPath, name, allowOutside)
  if (place.state === 'missing') return { line: line('missing', 'is not there'), sha256: null }
  if (place.state === 'outside')
    return {
      line: line('outside', 'lies outside the job’s folder and was not read'),
      sha256: null,
    }
  const now = await hashFile(place.path, task)
  if (now === sha256) return { line: line('same'), sha256 }
  return {
    line: line('changed', `is another file than the one of ${bytes} bytes that was signed`),
    sha256: now,
  }
}

/** Parts of the art that are not as they were, each once. */
function layerWords(changed: readonly SignedLayer[], readable: boolean): string {
  if (!readable) return 'is another file than the one that was signed, and cannot be read as art'
  if (changed.length === 0) return 'is another file, in which no layer changed'
  const names = changed.map(({ kind, name, role }) =>
    kind === 'document'
      ? 'size, colours, paths or profile'
      : `${JSON.stringify(name)}${role === null ? '' : ` (${role})`}`,
  )
  return `changed in ${[...new Set(names)].join(', ')}`
}

async function earlierLine(
  recordPath: string,
  { name, seal }: NonNullable<SignoffRecord['supersedes']>,
): Promise<Verified> {
  const line = (state: Verified['state'], says = ''): Verified => ({
    what: 'earlier record',
    name,
    state,
    says,
  })
  const text = await textOrNull(join(dirname(recordPath), basename(name)))
  if (text === null) return line('missing', 'is not beside the record')
  try {
    const earlier = parseRecord(text, name)
    const same = earlier.seal === seal && brokenIn(earlier, text).length === 0
    return same ? line('same') : line('changed', 'is not the one that this record took the place of')
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return line('changed', `${error.where}: ${error.problem}`)
  }
}
