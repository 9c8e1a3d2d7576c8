import type { Task } from '../core/base/task.ts'
import type { Asset, AssetFile } from '../core/job/asset.ts'
import type { Job } from '../core/job/job.ts'
import type { ChosenFile, PlacedAsset, PlacedFile } from './asset-places.ts'
import { hashFile } from './hash-file.ts'
import { artPathFor } from './job-art.ts'

interface Known {
  readonly state: PlacedFile['state']
  readonly path: string | null
  /** A file that came by upload has no place that a job could name. */
  readonly alone: boolean
}

/**
 * Files of assets by what a job says was in them: a page names none that the user has not chosen or agreed to, and
 * an edited job finds them again wherever it is saved.
 */
export class AssetBook {
  readonly #known = new Map<string, Known>()

  /** What was found for the assets of a job that was opened. */
  note(placed: readonly PlacedAsset[]): void {
    for (const { asset, files } of placed)
      for (const [i, file] of files.entries()) this.noteFile(asset.files[i]!, file)
  }

  /** What was found for one file of a job. */
  noteFile({ sha256 }: AssetFile, { state, path }: PlacedFile): void {
    // A file of another job that is really there is not forgotten for one that is not.
    if (path === null && this.#known.get(sha256)?.path) return
    this.#known.set(sha256, { state, path, alone: false })
  }

  /** Files that the user chose, as a job names them until it is saved. */
  async add(files: readonly ChosenFile[], task?: Task): Promise<readonly AssetFile[]> {
    const added: AssetFile[] = []
    for (const { name, path, alone } of files) {
      const sha256 = await hashFile(path, task)
      this.#known.set(sha256, { state: 'found', path, alone })
      added.push({ path: name, sha256 })
    }
    return added
  }

  /** Files that a job's assets, print profile and the art beside its first file were found in. */
  foundFor(
    job: Pick<Job, 'art' | 'assets' | 'print'>,
  ): readonly { readonly sha256: string; readonly path: string }[] {
    const files = [
      ...job.assets.flatMap(asset => asset.files),
      ...(job.print.profile ? [job.print.profile] : []),
      ...(job.art?.beside ?? []),
    ]
    return files.flatMap(({ sha256 }) => {
      const path = this.#known.get(sha256)?.path
      return path ? [{ sha256, path }] : []
    })
  }

  /** A file that an earlier session had found; what is in it now is looked at again. */
  async again(sha256: string, path: string): Promise<void> {
    const now = await hashFile(path).catch(() => null)
    if (now === null) this.#known.set(sha256, { state: 'missing', path: null, alone: false })
    else this.#known.set(sha256, { state: now === sha256 ? 'found' : 'changed', path, alone: false })
  }

  /** Where the files of assets are on this machine. */
  place(assets: readonly Asset[]): readonly PlacedAsset[] {
    return assets.map(asset => ({ asset, files: asset.files.map(file => this.placeFile(file)) }))
  }

  /** Where one file is on this machine. */
  placeFile({ path: name, sha256 }: AssetFile): PlacedFile {
    const { state, path } = this.#known.get(sha256) ?? { state: 'missing' as const, path: null }
    return { name, state, path }
  }

  /** The same assets with their files named from where the job is saved. */
  named(assets: readonly Asset[], jobPath: string): readonly Asset[] {
    return assets.map(asset => ({
      ...asset,
      files: asset.files.map(file => this.namedFile(file, jobPath)),
    }))
  }

  namedFile(file: AssetFile, jobPath: string): AssetFile {
    const known = this.#known.get(file.sha256)
    return known?.path && !known.alone ? { ...file, path: artPathFor(jobPath, known.path) } : file
  }
}
