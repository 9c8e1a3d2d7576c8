import { blankArt } from '../core/art/blank.ts'
import { compositeDifference, differenceFinding } from '../core/art/composite-difference.ts'
import type { Art, ArtFile } from '../core/art/layer.ts'
import { BadInput, type Finding } from '../core/base/finding.ts'
import { partOf, type Task } from '../core/base/task.ts'
import type { WhiteRecipe } from '../core/checks/white/recipe.ts'
import type { Picture } from '../core/host/picture.ts'
import { jobFindings } from '../core/job/compare.ts'
import { sameTarget } from '../core/job/edit.ts'
import type { Job } from '../core/job/job.ts'
import { makeWhite, recipeKey } from '../core/job/made-white.ts'
import { assumptions } from '../core/job/new.ts'
import { type SeenArt, seenArt } from '../core/job/seen.ts'
import { buildMap, type MapOptions } from '../core/material/build.ts'
import type { MadeWhite } from '../core/material/made-white.ts'
import type { MaterialMap } from '../core/material/map.ts'
import { assignRoles } from '../core/roles/assign.ts'
import type { Assigned, RoleName, Target } from '../core/roles/role.ts'
import { type AmountSuggestion, assignLooking, suggestAmount } from '../core/roles/suggest.ts'
import type { PlacedAsset, PlacedFile } from './asset-places.ts'
import { readAssets } from './asset-views.ts'
import { fileState } from './file-state.ts'
import { hashFile } from './hash-file.ts'
import { layerPicture } from './layer-picture.ts'
import { type OpenArt, openArt, type PlacedArt, type ReadingOf } from './placed-art.ts'
import { openPress, printOnScreen } from './press.ts'

/** Rules alone: nobody has decided anything yet. */
export const noDecisions: Pick<Job, 'aliases' | 'roles'> = { aliases: [], roles: [] }

/** What lies on the panel of a job that has no art yet. */
export const blankFor = (job: Job): ArtFile => blankArt({ ...job.panel, ...job.sketch })

/** A piece of art as it was found. */
export interface ReadArt {
  readonly art: Art
  readonly sha256: string
  readonly assigned: readonly Assigned[]
  /** About the file as a whole, beyond what `art` carries itself. */
  readonly findings: readonly Finding[]
  readonly seen: SeenArt
}

/** Reads art whole: structure, hash, roles, and how far our picture of it is from the file's own. */
export async function importArt(file: ArtFile, path: string, task?: Task): Promise<ReadArt> {
  const sha256 = await hashFile(path, partOf(task, 0, 0.1))
  const assigned = await rolesForJob(file, noDecisions, partOf(task, 0.1, 0.5))
  const difference = await compositeDifference(file, partOf(task, 0.5, 0.9))
  const seen = await seenArt(file, partOf(task, 0.9, 1))
  const differs = 'reason' in difference ? null : differenceFinding(difference)
  const findings = differs === null ? assumptions(file.art) : [...assumptions(file.art), differs]
  return { art: forPage(file.art), sha256, assigned, findings, seen }
}

/** A job with the files that it stands on. */
export interface JobWork {
  readonly job: Job
  readonly assets: readonly PlacedAsset[]
  readonly profile: PlacedFile | null
  /** How the art differs from the one that the job was saved with; missing where it does not, or nobody asked. */
  readonly artChange?: Finding
}

/** What a job's map is built from, and what was said on the way. */
export interface MapWork {
  readonly options: MapOptions
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
}

export async function mapWork(
  file: ArtFile,
  { job, assets, profile, artChange }: JobWork,
  task?: Task,
): Promise<MapWork> {
  const { press, findings: pressed } = await openPress(job.print, profile)
  const assigned = await rolesForJob(file, job, partOf(task, 0, 0.5))
  const read = await readAssets(assets, partOf(task, 0.5, 0.7))
  const made = job.madeWhite && (await whiteFor(file, job.madeWhite, job.panel, partOf(task, 0.7, 1)))
  return {
    options: { ...job, assigned, press, views: read.views, made },
    assigned,
    findings: [
      ...(artChange ? [artChange] : []),
      ...jobFindings(job, file.art),
      ...pressed,
      ...read.findings,
    ],
  }
}

/** The last white that was made of a file: an edit of something else need not make it again. */
const madeWhites = new WeakMap<ArtFile, MadeWhite>()

async function whiteFor(
  file: ArtFile,
  recipe: WhiteRecipe,
  panel: Job['panel'],
  task?: Task,
): Promise<MadeWhite> {
  const key = recipeKey(recipe, panel)
  const known = madeWhites.get(file)
  const data = known?.key === key ? known.data : (await makeWhite(file, recipe, panel, task)).data
  const made = { name: recipe.name, key, data }
  madeWhites.set(file, made)
  return made
}

/** A map of a job, with the roles it was built from. */
export interface MapOfJob {
  readonly map: MaterialMap
  readonly assigned: readonly Assigned[]
  readonly findings: readonly Finding[]
}

/** The map of a job's art, assets and print profile. */
export async function buildForJob(file: ArtFile, work: JobWork, task?: Task): Promise<MapOfJob> {
  const { options, assigned, findings } = await mapWork(file, work, partOf(task, 0, 0.4))
  const built = await buildMap(file, options, partOf(task, 0.4, 1))
  return { map: built.map, assigned, findings: [...findings, ...built.findings] }
}

/** Looks that were taken at a file's layers, by target and role: they cost a pass over the pixels each. */
const looked = new WeakMap<ArtFile, Map<string, AmountSuggestion>>()

/** The roles of a job's art. What a look at the pixels said about a layer is kept while the file is open. */
export function rolesForJob(
  file: ArtFile,
  job: Pick<Job, 'aliases' | 'roles'>,
  task?: Task,
): Promise<readonly Assigned[]> {
  return assignLooking(file, { aliases: job.aliases, choices: job.roles }, task, lookOnce)
}

/** `suggestAmount`, taken once for a layer in a role. */
async function lookOnce(
  file: ArtFile,
  target: Target,
  role: RoleName,
  task?: Task,
): Promise<AmountSuggestion> {
  const known = looked.get(file) ?? new Map<string, AmountSuggestion>()
  looked.set(file, known)
  const key = `${target.kind} ${target.id} ${role}`
  const suggestion = known.get(key) ?? (await suggestAmount(file, target, role, task))
  known.set(key, suggestion)
  return suggestion
}

/** A small picture of a layer, or of the amount that the job reads from it. */
export async function previewForJob(
  file: ArtFile,
  job: Job,
  target: Target,
  show: 'colour' | 'amount',
  size: number,
  task?: Task,
): Promise<Picture> {
  const rules = { aliases: job.aliases, choices: job.roles }
  const found = assignRoles(file.art, rules).find(one => sameTarget(one.target, target))
  if (found === undefined)
    throw new BadInput(
      'no-such-layer',
      file.art.name,
      `${target.kind} ${target.id}`,
      'is not in the art',
      'Open the art again',
    )
  const { amount } =
    show === 'amount' && found.askAmount ? await lookOnce(file, target, found.role, task) : found
  const print = show === 'colour' && file.art.colorMode === 'CMYK' ? await printOnScreen() : undefined
  return layerPicture(file, target, show, amount, size, task, print)
}

/** The profile is for the colour engine and outlines are for checks; a page has no use for their megabytes. */
function forPage(art: Art): Art {
  return {
    ...art,
    profile: art.profile && { name: art.profile.name, bytes: new Uint8Array(0) },
    layers: art.layers.map(({ outlines: _, ...layer }) => ({
      ...layer,
      vectorMask: layer.vectorMask && { ...layer.vectorMask, paths: [] },
    })),
  }
}

interface Opened extends OpenArt {
  /** Which art it is, and how it is read. */
  readonly key: string
  readonly state: string
}

/** Keeps the last few files open, so that each preview does not read the structure again. A changed file is read anew. */
export class ArtShelf {
  readonly #opened: Opened[] = []
  #blank: { readonly key: string; readonly file: ArtFile } | null = null
  /** Files at once; each holds a file handle and the layers' places, no pixels. */
  readonly #most = 3

  async open(art: PlacedArt, { page, ppi, readAs }: ReadingOf, task?: Task): Promise<ArtFile> {
    const key = JSON.stringify([art, page, ppi, readAs])
    const state = (await Promise.all([art.path, ...art.beside].map(fileState))).join(', ')
    const known = this.#opened.find(one => one.key === key)
    if (known?.state === state) return known.file
    if (known !== undefined) await this.#drop(known)
    const opened = await openArt(art, { page, ppi, readAs }, task)
    this.#opened.push({ key, state, ...opened })
    const oldest = this.#opened[0]
    if (this.#opened.length > this.#most && oldest !== undefined) await this.#drop(oldest)
    return opened.file
  }

  /** The art of a job. @param art null where it has none yet: its sketch is then the art */
  async forJob(art: PlacedArt | null, job: Job, task?: Task): Promise<ArtFile> {
    if (art !== null) return this.open(art, job.art ?? {}, task)
    // One sketch is one file, so that its map can follow.
    const key = JSON.stringify([job.panel, job.sketch])
    if (this.#blank?.key !== key) this.#blank = { key, file: blankFor(job) }
    return this.#blank.file
  }

  async #drop(one: Opened): Promise<void> {
    this.#opened.splice(this.#opened.indexOf(one), 1)
    await one.close()
  }
}
