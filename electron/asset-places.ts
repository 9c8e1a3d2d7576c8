import { posix } from 'node:path'
import { BadInput, type Finding } from '../core/base/finding.ts'
import { filesBeside } from '../core/base/gltf-file.ts'
import type { Task } from '../core/base/task.ts'
import type { Asset, AssetFile, AssetKindName } from '../core/job/asset.ts'
import type { Job } from '../core/job/job.ts'
import { hashFile } from './hash-file.ts'
import { findBeside } from './job-art.ts'
import { readWhole } from './read-whole.ts'

/** An asset with the places of its files on this machine, in the job's order. */
export interface PlacedAsset {
  readonly asset: Asset
  readonly files: readonly PlacedFile[]
}

export interface PlacedFile {
  /** As the job names it. */
  readonly name: string
  readonly state: 'found' | 'changed' | 'outside' | 'missing'
  /** Null unless it may be read. */
  readonly path: string | null
}

/** Finds the files of a job's assets; nothing outside the job's folder is touched before the user has agreed. */
export async function findAssets(
  jobPath: string,
  job: Job,
  allowOutside: boolean,
  task?: Task,
): Promise<readonly PlacedAsset[]> {
  const placed: PlacedAsset[] = []
  for (const asset of job.assets) {
    const files: PlacedFile[] = []
    for (const file of asset.files) files.push(await findFile(jobPath, file, allowOutside, task))
    placed.push({ asset, files })
  }
  return placed
}

/** Finds one file that a job names. */
export async function findFile(
  jobPath: string,
  { path: name, sha256 }: AssetFile,
  allowOutside: boolean,
  task?: Task,
): Promise<PlacedFile> {
  const { state, path } = await findBeside(jobPath, name, allowOutside)
  if (state !== 'found') return { name, state, path: null }
  const same = (await hashFile(path, task && { ...task, progress: () => undefined })) === sha256
  return { name, state: same ? 'found' : 'changed', path }
}

/** What the user should know about files that are not as the job has them. */
export function placeFindings({ asset, files }: PlacedAsset): readonly Finding[] {
  return files.flatMap(({ name, state }) =>
    state === 'found'
      ? []
      : [
          {
            severity: 'warning' as const,
            code: `asset-${state}`,
            where: `${asset.id}, file "${name}"`,
            ...words[state],
          },
        ],
  )
}

const words = {
  changed: {
    message: 'is not the file that the job was made with; it is shown as it is now',
    fix: 'Choose the files again to keep the new one.',
  },
  outside: {
    message: "lies outside the job's folder and was not read",
    fix: 'Choose the files again if you trust the job, or move them beside it.',
  },
  missing: {
    message: 'is not there, so what it shows is left out',
    fix: 'Put it back, or choose the files again.',
  },
} as const

/** A file that the user chose. `path`: it has siblings; an upload lies alone. */
export interface ChosenFile {
  readonly name: string
  readonly path: string
  readonly alone: boolean
}

/**
 * The files that an asset of a kind is made of: what was chosen and, for a text model, what lies beside it.
 * Rejects with BadInput when they do not fit the kind.
 */
export async function assetFiles(
  kind: AssetKindName,
  chosen: readonly ChosenFile[],
): Promise<readonly ChosenFile[]> {
  const first = chosen[0]
  if (first === undefined) throw unfit('the files', 'none was chosen', 'Choose at least one')
  if (kind === 'views') return chosen
  if (kind === 'heights') {
    if (chosen.length > 1)
      throw unfit(first.name, `${chosen.length} pictures were chosen`, 'Choose one picture')
    return chosen
  }
  const model = chosen.find(one => /\.gl(b|tf)$/i.test(one.name))
  if (model === undefined) throw unfit(first.name, 'is not a .glb or .gltf file', 'Choose a model')
  const beside: ChosenFile[] = []
  for (const uri of filesBeside(await readWhole(model.path), model.name)) {
    const given = chosen.find(one => one.name === posix.basename(uri))
    const place = given || model.alone ? null : await findBeside(model.path, uri, false)
    if (given) beside.push(given)
    else if (place?.state === 'found')
      beside.push({ name: posix.join(posix.dirname(model.name), uri), path: place.path, alone: false })
    else
      throw unfit(
        model.name,
        `"${uri}" is not beside it`,
        model.alone
          ? 'Choose it together with the model, or export one .glb file'
          : 'Put it back, or export one .glb file',
      )
  }
  return [model, ...beside]
}

const unfit = (name: string, problem: string, fix: string): BadInput =>
  new BadInput('asset-unfit', name, 'the files', problem, fix)
