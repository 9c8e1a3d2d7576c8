import { partOf, type Task } from '../base/task.ts'
import type { MaterialMap } from '../material/map.ts'
import { pyramid } from '../material/mip.ts'
import type { Tables } from '../optics/tables.ts'
import { type ProofTold, proofManifest } from '../proof/contents.ts'
import { detailOf, fitMap } from '../proof/fit.ts'
import type { ProofManifest } from '../proof/manifest.ts'
import { plainPlanes } from '../proof/pack.ts'
import { proofPage, type ViewerScripts } from './proof-page.ts'
import { type PicturePlan, proofPictures, usualPictures } from './proof-pictures.ts'

export interface ProofInput extends Omit<ProofTold, 'strip'> {
  /** As the plates lie. */
  readonly map: MaterialMap
  /** Tables of the job's own light. */
  readonly sets: readonly Tables[]
  /** Most bytes of the file. */
  readonly budget: number
  readonly scripts: ViewerScripts
  readonly pictures?: PicturePlan
}

export interface MadeProof {
  readonly page: string
  readonly manifest: ProofManifest
}

/**
 * The one file of a proof: the same input makes the same text.
 * Throws BadInput where it cannot fit its budget, Cancelled when told to stop.
 */
export function makeProof(input: ProofInput, task?: Task): MadeProof {
  const { map, sets, budget, scripts, of } = input
  const pictures = proofPictures(
    of.job,
    pyramid(map),
    sets,
    input.pictures ?? usualPictures,
    partOf(task, 0, 0.7),
  )
  const told = { ...input, strip: pictures.held }
  const bare = proofManifest(told, { map, planes: [], detail: detailOf(map, map, 0, budget) })
  const besides =
    byteLength(proofPage(bare, [], pictures, scripts)) + perPlane * (plainPlanes(map).length + 1)
  const fitted = fitMap(map, besides, budget, partOf(task, 0.7, 1))
  const manifest = proofManifest(told, fitted)
  const page = proofPage(
    manifest,
    fitted.planes.map(({ bytes }) => bytes),
    pictures,
    scripts,
  )
  return { page, manifest }
}

/** More than a plane's entry and its block take beside its bytes, and than one level's sentence is longer than another's. */
const perPlane = 450

const byteLength = (text: string): number => new TextEncoder().encode(text).length
