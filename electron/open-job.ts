import { basename } from 'node:path'
import { readArt } from '../core/art/read.ts'
import { BadInput, type Finding } from '../core/base/finding.ts'
import type { Task } from '../core/base/task.ts'
import type { Group } from '../core/checks/register/groups.ts'
import { shiftedMap } from '../core/checks/register/shifted-map.ts'
import type { Job } from '../core/job/job.ts'
import { parseJob } from '../core/job/parse.ts'
import { shownMotions } from '../core/job/register.ts'
import { designNamed } from '../core/job/variants.ts'
import { blankFor, buildForJob, type MapOfJob } from './art-work.ts'
import { findAssets, findFile, type PlacedAsset, type PlacedFile } from './asset-places.ts'
import { openFile } from './file-source.ts'
import { hashFile } from './hash-file.ts'
import { findArt } from './job-art.ts'
import { readText } from './read-text.ts'

/** A job with its art found and checked, as the command line uses it. */
export interface JobAtWork {
  readonly job: Job
  /** Null before there is any art. */
  readonly artPath: string | null
  readonly assets: readonly PlacedAsset[]
  /** The print condition's profile; null = the one that ships. */
  readonly profile: PlacedFile | null
  /** The art is not the one that the job was saved with. */
  readonly changed: boolean
}

/**
 * Reads a job and finds its art.
 * Rejects with BadInput when either is missing, or when the art lies outside the job's folder and nobody agreed to it.
 * @param design name of the design that the job is to show; its own choice when left out
 */
export async function openJob(
  jobPath: string,
  allowOutside: boolean,
  task?: Task,
  design?: string,
): Promise<JobAtWork> {
  const name = basename(jobPath)
  const saved = parseJob(await readText(jobPath), name)
  const job = design === undefined ? saved : designNamed(saved, design, name)
  return placeJob(jobPath, job, allowOutside, task)
}

/** Finds what a job stands on, as seen from where its file lies. Rejects as {@link openJob} does. */
export async function placeJob(
  jobPath: string,
  job: Job,
  allowOutside: boolean,
  task?: Task,
): Promise<JobAtWork> {
  const name = basename(jobPath)
  const beside = {
    job,
    assets: await findAssets(jobPath, job, allowOutside, task),
    profile: job.print.profile && (await findFile(jobPath, job.print.profile, allowOutside, task)),
  }
  const { art } = job
  if (art === null) return { ...beside, artPath: null, changed: false }
  const place = await findArt(jobPath, art, allowOutside)
  switch (place.state) {
    case 'outside':
      throw new BadInput(
        'art-outside',
        name,
        'field "art.path"',
        `"${art.path}" lies outside the job's folder and was not read`,
        'Add --allow-outside if you trust the job, or move the art beside it',
      )
    case 'missing':
      throw new BadInput(
        'art-missing',
        name,
        'field "art.path"',
        `the art "${art.path}" is not there`,
        'Put it back, or make a new job from the art where it is now',
      )
    case 'found':
      return {
        ...beside,
        artPath: place.path,
        changed: (await hashFile(place.path, task)) !== art.sha256,
      }
  }
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

async function asDesigned({ job, artPath, assets, profile }: JobAtWork, task?: Task): Promise<MapOfJob> {
  if (artPath === null) return buildForJob(blankFor(job), { job, assets, profile }, task)
  const source = await openFile(artPath)
  try {
    return await buildForJob(await readArt(source, {}, task), { job, assets, profile }, task)
  } finally {
    await source.close()
  }
}
