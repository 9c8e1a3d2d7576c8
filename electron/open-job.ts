import { basename } from 'node:path'
import { BadInput, type Finding } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'
import type { Group } from '../core/checks/register/groups.ts'
import { shiftedMap } from '../core/checks/register/shifted-map.ts'
import type { Job, JobArt } from '../core/job/job.ts'
import { parseJob } from '../core/job/parse.ts'
import { shownMotions } from '../core/job/register.ts'
import { designNamed } from '../core/job/variants.ts'
import { blankFor, buildForJob, type MapOfJob } from './art-work.ts'
import { findAssets, findFile, type PlacedAsset, type PlacedFile } from './asset-places.ts'
import { hashFile } from './hash-file.ts'
import { findBeside } from './job-art.ts'
import { openArt, type PlacedArt } from './placed-art.ts'
import { readText } from './read-text.ts'

/** A job with its art found and checked, as the command line uses it. */
export interface JobAtWork {
  readonly job: Job
  /** Null before there is any art. */
  readonly art: PlacedArt | null
  readonly assets: readonly PlacedAsset[]
  /** The print condition's profile; null = the one that ships. */
  readonly profile: PlacedFile | null
  /** The art is not the one that the job was saved with. */
  readonly changed: boolean
  /** How it differs, where somebody looked. */
  readonly artChange?: Finding
}

/**
 * Reads a job and finds its art.
 * Rejects with BadInput when either is missing, or when the art lies outside the job's folder and nobody agreed to it.
 * @param design   name of the design that the job is to show; its own choice when left out
 * @param password of locked art; the one of {@link passwordName} when left out
 */
export async function openJob(
  jobPath: string,
  allowOutside: boolean,
  task?: Task,
  design?: string,
  password?: string,
): Promise<JobAtWork> {
  const name = basename(jobPath)
  const saved = parseJob(await readText(jobPath), name)
  const job = design === undefined ? saved : designNamed(saved, design, name)
  return placeJob(jobPath, job, allowOutside, task, password)
}

/** Names the password of locked art in the environment of a command. */
export const passwordName = 'RAKELIGHT_PASSWORD'

/** Finds what a job stands on, as seen from where its file lies. Rejects as {@link openJob} does. */
export async function placeJob(
  jobPath: string,
  job: Job,
  allowOutside: boolean,
  task?: Task,
  password: string | undefined = process.env[passwordName],
): Promise<JobAtWork> {
  const beside = {
    job,
    assets: await findAssets(jobPath, job, allowOutside, task),
    profile: job.print.profile && (await findFile(jobPath, job.print.profile, allowOutside, task)),
  }
  const { art } = job
  if (art === null) return { ...beside, art: null, changed: false }
  const placed = await placeArt(jobPath, art, allowOutside, password ?? null)
  const files = [art, ...(art.beside ?? [])]
  let changed = false
  for (const [i, path] of [placed.path, ...placed.beside].entries())
    changed ||= (await hashFile(path, task)) !== files[i]!.sha256
  return { ...beside, art: placed, changed }
}

/** Where the files of a job's art lie. Rejects with BadInput when one of them is missing, or lies outside and nobody agreed. */
export async function placeArt(
  jobPath: string,
  art: JobArt,
  allowOutside: boolean,
  password: string | null,
): Promise<PlacedArt> {
  const name = basename(jobPath)
  const placed = async (file: string, field: string): Promise<string> => {
    const place = await findBeside(jobPath, file, allowOutside)
    switch (place.state) {
      case 'outside':
        throw new BadInput(
          'art-outside',
          name,
          `field "${field}"`,
          `"${file}" lies outside the job's folder and was not read`,
          'Add --allow-outside if you trust the job, or move the art beside it',
        )
      case 'missing':
        throw new BadInput(
          'art-missing',
          name,
          `field "${field}"`,
          `the art "${file}" is not there`,
          'Put it back, or make a new job from the art where it is now',
        )
      case 'found':
        return place.path
    }
  }
  const path = await placed(art.path, 'art.path')
  const beside: string[] = []
  for (const [i, file] of (art.beside ?? []).entries())
    beside.push(await placed(file.path, `art.beside.${i}.path`))
  return { path, beside, password }
}

/**
 * The map of a job's art as its plates lie, for pictures and numbers of one carton, with what was found on the way. What
 * judges the design itself asks for the map as drawn.
 */
export async function buildFromJob(opened: JobAtWork, task?: Task): Promise<MapOfJob> {
  const { map, assigned, findings } = await asDesigned(opened, task)
  const motions = shownMotions(opened.job)
  const lies = Object.keys(motions)
  if (lies.length === 0) return { map, assigned, findings }
  const slipped: Finding = {
    severity: 'warning',
    code: 'plates-out-of-register',
    where: 'register',
    message: `${lies.map(group => groupWords[group as Group]).join(', ')} ${lies.length > 1 ? 'are' : 'is'} shown out of register, as the job has it`,
    fix: 'To see it as designed, put the plates back in the window (Checks, Register)',
  }
  return { map: shiftedMap(map, motions), assigned, findings: [...findings, slipped] }
}

const groupWords: Readonly<Record<Group, string>> = {
  holography: 'holography',
  white: 'white',
  colour: 'inks',
  die: 'cut',
}

async function asDesigned({ art, ...work }: JobAtWork, task?: Task): Promise<MapOfJob> {
  const { job } = work
  if (art === null) return buildForJob(blankFor(job), work, task)
  const { file, close } = await openArt(art, job.art ?? {}, task)
  try {
    return await buildForJob(file, work, task)
  } finally {
    await close()
  }
}
