import { basename, resolve } from 'node:path'
import { BadInput } from '../../core/base/finding.ts'
import { type ArtChange, changeLines } from '../../core/job/art-change.ts'
import { layOnCarton } from '../../core/job/carton-job.ts'
import type { Job } from '../../core/job/job.ts'
import { parseJob } from '../../core/job/parse.ts'
import { metAgain } from '../../core/job/relink.ts'
import { findBeside } from '../job-art.ts'
import { movedJob } from '../moved-job.ts'
import { readText } from '../read-text.ts'
import type { ArtAsked } from './art-flags.ts'
import type { Output } from './command.ts'
import { printable } from './printable.ts'

/** A job whose decisions another state of its art, or other art, is to have. */
export interface KeptJob {
  readonly path: string
  readonly job: Job
}

/** Reads it. Rejects with BadInput. */
export async function keptJob(path: string): Promise<KeptJob> {
  return { path, job: parseJob(await readText(path), basename(path)) }
}

/**
 * Art as it is asked for, read as the job reads its own where nobody says otherwise: page, resolution, files beside it.
 * Rejects with BadInput where one of these is not there.
 */
export async function readAsBefore(asked: ArtAsked, { path, job }: KeptJob): Promise<ArtAsked> {
  if (job.art === null) return asked
  const { page, ppi, readAs, beside = [] } = job.art
  const before = {
    ...(page === undefined ? {} : { page }),
    ...(ppi === undefined ? {} : { ppi }),
    ...(readAs === undefined ? {} : { readAs }),
  }
  const reading = { ...before, ...asked.reading }
  if (asked.art.beside.length > 0 || beside.length === 0) return { ...asked, reading }
  const places = await Promise.all(beside.map(file => findBeside(path, file.path, false)))
  const lost = places.findIndex(place => place.state !== 'found')
  if (lost >= 0)
    throw new BadInput(
      'art-missing',
      basename(path),
      `field "art.beside.${lost}.path"`,
      `"${beside[lost]!.path}" is not there, or lies outside the job's folder`,
      'Name the files beside the art with --beside',
    )
  return { art: { ...asked.art, beside: places.map(place => place.path) }, reading }
}

/**
 * The job over the art that a fresh one was made for, with what that changed.
 * @param target where it is going to lie
 */
export function overArt(
  { path, job }: KeptJob,
  fresh: Job,
  target: string,
): { readonly job: Job; readonly change: ArtChange | null } {
  const met = metAgain(movedJob(job, path, resolve(target)), fresh)
  return job.art === null ? { ...met, job: layOnCarton(fresh.panel)(met.job) } : met
}

/** Says what differs, and what of the job has no place any more. */
export function sayKept(change: ArtChange | null, lost: readonly string[], output: Output): void {
  const lines = change === null ? [] : changeLines(change)
  if (change !== null && lines.length === 0) output.say('  the same layers and inks in the same places')
  for (const line of [...lines, ...lost]) output.say(`  ${printable(line)}`)
}
