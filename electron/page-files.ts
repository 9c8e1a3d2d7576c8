import { BadInput } from '../core/base/finding.ts'
import { blankFileId } from '../core/host/file-ref.ts'
import type { AssetFile } from '../core/job/asset.ts'
import type { ArtReading, Job } from '../core/job/job.ts'
import { checkJob } from '../core/job/parse.ts'
import type { ReadArt } from './art-work.ts'
import { AssetBook } from './asset-book.ts'
import type { ChosenFile } from './asset-places.ts'
import { FileBook, type KnownFile } from './file-book.ts'
import { fileState } from './file-state.ts'
import { hashFile } from './hash-file.ts'
import type { PlacedArt } from './placed-art.ts'
import type { JobFiles } from './version-sources.ts'

/** Files that the page names by ids, and where those of its job are on this machine. */
export class PageFiles {
  readonly book = new FileBook()
  readonly assets = new AssetBook()
  /** Art by file id: the hash that a saved job will name, and how its files stood when they were read. */
  readonly #read = new Map<string, { readonly sha256: string; readonly state: string | null }>()
  /** Of locked files, by path: they are forgotten when the program ends. */
  readonly #passwords = new Map<string, string>()

  /** A job of the page with its files where they were found. Throws BadInput for a job that is none. */
  ofJob(artFileId: string, given: unknown): JobFiles {
    const job = checkJob(given, 'the job')
    return {
      job,
      art: this.artOf(artFileId, job.art?.beside ?? []),
      assets: this.assets.place(job.assets),
      profile: job.print.profile && this.assets.placeFile(job.print.profile),
    }
  }

  /**
   * Art with the files beside it, as they were chosen or found; null for a panel without art.
   * Throws BadInput where one is not to be had.
   */
  artOf(fileId: string, beside: readonly AssetFile[]): PlacedArt | null {
    return fileId === blankFileId ? null : this.placedArt(fileId, beside)
  }

  /** The same for art that is there. */
  placedArt(fileId: string, beside: readonly AssetFile[]): PlacedArt {
    const { path } = this.book.get(fileId)
    const places = beside.map(file => {
      const place = this.assets.placeFile(file).path
      if (place !== null) return place
      throw new BadInput(
        'art-missing',
        file.path,
        'the file',
        'belongs to the art and is not there, or was not agreed to',
        'Put it back, or open the art anew with all its files',
      )
    })
    return { path, beside: places, password: this.#passwords.get(path) ?? null }
  }

  /** What opens a locked file from now on. */
  unlock(fileId: string, password: string): void {
    this.#passwords.set(this.book.get(fileId).path, password)
  }

  /** How art is read, with files that were just chosen beside those that a job had. */
  async readingOf(
    { beside: had = [], ...reading }: ArtReading,
    besideIds: readonly string[],
  ): Promise<ArtReading> {
    const known = had.flatMap((file): ChosenFile[] => {
      const { path } = this.assets.placeFile(file)
      return path === null ? [] : [{ name: file.path, path, alone: false }]
    })
    const beside = await this.assets.add([...known, ...besideIds.map(id => chosen(this.book.get(id)))])
    return beside.length === 0 ? reading : { ...reading, beside }
  }

  /** How the files of the art stand on the disk; null when one is gone. */
  async artState(fileId: string, beside: readonly AssetFile[]): Promise<string | null> {
    const places = [this.book.get(fileId).path, ...beside.map(file => this.assets.placeFile(file).path)]
    const all = await Promise.all(places.map(place => (place === null ? null : fileState(place))))
    return all.includes(null) ? null : all.join(', ')
  }

  /** Art was read. @param state how its files stood before that; a map is kept only for art that is still the same */
  noteRead(fileId: string, { sha256 }: Pick<ReadArt, 'sha256'>, state: string | null): void {
    this.#read.set(fileId, { sha256, state })
  }

  /** The hash of art that is still as it was read; null for art that is not, and '' where there is none yet. */
  async unchanged(fileId: string, { art }: Job): Promise<string | null> {
    if (fileId === blankFileId) return ''
    const read = this.#read.get(fileId)
    if (read === undefined || read.state === null) return null
    return (await this.artState(fileId, art?.beside ?? [])) === read.state ? read.sha256 : null
  }

  /** The hash of the art as it was read; of a file that was not, as it is now. */
  async hashOf(fileId: string): Promise<string> {
    return this.#read.get(fileId)?.sha256 ?? (await hashFile(this.book.get(fileId).path))
  }
}

/** A file of the page's as an asset. */
export function chosen({ ref, path, origin }: KnownFile): ChosenFile {
  return { name: ref.name, path, alone: origin === 'upload' }
}

/** The place a job is saved to again; an upload has none that the user could find. Throws BadInput. */
export function placeOf(file: KnownFile): string {
  if (file.origin === 'path') return file.path
  throw new BadInput(
    'no-place',
    file.ref.name,
    'the file',
    'came by upload, so there is no place to save it to',
    'Download the job instead',
  )
}
