import { basename } from 'node:path'
import type { Task } from '../core/base/task.ts'
import type { Handlers } from '../core/host/contract.ts'
import type { SignoffState } from '../core/host/signing.ts'
import { versionChanges } from '../core/proof/changes.ts'
import { rolesTouched, type SignedLayer } from '../core/proof/layers.ts'
import { checkNoteList } from '../core/proof/read-notes.ts'
import { roundOf } from '../core/proof/round.ts'
import { signedVersion, standing } from '../core/proof/standing.ts'
import type { ComparePair } from './compare-pair.ts'
import { jobSide, type Side, versionSide } from './compare-side.ts'
import { addNotes, mergeReturned, notesPath, readNotes } from './note-book.ts'
import { signingOf } from './signing.ts'
import { addToRecord, notesSeen, readRecord, signoffPath } from './signoff-book.ts'
import { listedVersion, listVersions } from './version-book.ts'
import { type JobFiles, versionNow } from './version-sources.ts'

/** What these handlers ask of the host. */
interface Books {
  /** Where a saved job lies. Throws BadInput for one that came by upload. */
  jobPath(jobFileId: string): string
  notesPath(notesFileId: string): string
  /** A job of the page with its files where they were found. */
  filesOf(artFileId: string, job: unknown): JobFiles
  /** Parts of the art of a job. */
  layersOf(files: JobFiles): Promise<readonly SignedLayer[]>
  /** Long work that the page may ask after and stop. */
  run<T>(taskId: string, work: (task: Task) => Promise<T>): Promise<T>
  readonly pair: ComparePair
}

type Names = 'versions' | 'notes' | 'addNotes' | 'mergeNotes' | 'signoff' | 'addSignoff' | 'comparePicture'

/** Versions, notes and sign-off of a saved job. */
export function signHandlers(books: Books): Pick<Handlers, Names> {
  /** Null where there is no record. */
  const stateOf = async (jobPath: string, files: JobFiles): Promise<SignoffState | null> => {
    const path = signoffPath(jobPath)
    const name = basename(path)
    const read = await readRecord(path)
    if (read === null) return null
    const { record, broken } = read
    const head = { name, record, broken, round: roundOf(record) }
    if (broken.length > 0) return { ...head, standing: null }
    const now = await versionNow(files, basename(jobPath), new Date().toISOString())
    const signed = signedVersion(record, name)
    const found = standing(signed, now)
    const artChanged = found.kind === 'superseded' && found.changes.some(one => one.what === 'art')
    if (!artChanged || record.layers.length === 0) return { ...head, standing: found }
    const layers = rolesTouched(record.layers, await books.layersOf(files))
    return { ...head, standing: standing(signed, now, layers) }
  }

  return {
    versions: async ({ jobFileId }) => {
      const listed = await listVersions(books.jobPath(jobFileId))
      return listed
        .map(({ version, files }, i) => ({
          id: version.id,
          madeAt: version.madeAt,
          program: version.program,
          data: version.data,
          files: files.map(file => file.name),
          changes: i === 0 ? [] : versionChanges(listed[i - 1]!.version, version),
        }))
        .reverse()
    },

    notes: ({ jobFileId }) => readNotes(books.jobPath(jobFileId)),

    addNotes: ({ jobFileId, notes }) => {
      const jobPath = books.jobPath(jobFileId)
      return addNotes(jobPath, checkNoteList(notes, basename(notesPath(jobPath))))
    },

    mergeNotes: ({ jobFileId, notesFileId }) =>
      mergeReturned(books.jobPath(jobFileId), books.notesPath(notesFileId)),

    signoff: ({ jobFileId, artFileId, job }) =>
      stateOf(books.jobPath(jobFileId), books.filesOf(artFileId, job)),

    addSignoff: async ({ jobFileId, artFileId, job, wish }) => {
      const jobPath = books.jobPath(jobFileId)
      const files = books.filesOf(artFileId, job)
      const at = new Date().toISOString()
      const signing = await signingOf(jobPath, files, at, () => books.layersOf(files))
      await addToRecord(signoffPath(jobPath), signing, wish, at, await notesSeen(jobPath))
      const state = await stateOf(jobPath, files)
      if (state === null) throw new Error('a record was lost')
      return state
    },

    comparePicture: ({ jobFileId, artFileId, taskId, job, a, b, width, height }) =>
      books.run(taskId, async task => {
        const jobPath = books.jobPath(jobFileId)
        const files = books.filesOf(artFileId, job)
        const sideOf = async (id: string | null): Promise<Side> =>
          id === null
            ? jobSide(files, `${basename(jobPath)}, now`, task)
            : versionSide(jobPath, await listedVersion(jobPath, id), false, task)
        const [one, other] = [await sideOf(a), await sideOf(b)]
        const compared = await books.pair.compare(one, other, files.job, { width, height }, task)
        const { numbers, changes } = compared
        const picture = (rgb: Uint8Array) => ({ width, height, rgba: withAlpha(rgb) })
        return {
          a: picture(compared.a),
          b: picture(compared.b),
          difference: picture(compared.difference),
          numbers,
          changes,
        }
      }),
  }
}

function withAlpha(rgb: Uint8Array): Uint8Array<ArrayBuffer> {
  const rgba = new Uint8Array((4 * rgb.length) / 3).fill(255)
  for (let i = 0; i < rgb.length / 3; i++) rgba.set(rgb.subarray(3 * i, 3 * i + 3), 4 * i)
  return rgba
}
