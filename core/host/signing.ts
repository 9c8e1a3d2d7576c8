import * as v from 'valibot'
import type { DifferenceNumbers } from '../export/light-difference.ts'
import type { JobChange } from '../proof/changes.ts'
import type { NotesMark } from '../proof/merge-notes.ts'
import type { NotesFile } from '../proof/notes.ts'
import { type Broken, signWish } from '../proof/read-signoff.ts'
import type { Round } from '../proof/round.ts'
import type { SignoffRecord } from '../proof/signoff.ts'
import type { SignoffStanding } from '../proof/standing.ts'
import { anyJob, fileId, pictureSide, taskId, versionId } from './fields.ts'
import type { Picture } from './picture.ts'

/** A version that went out. */
export interface VersionRef {
  readonly id: string
  /** ISO 8601, UTC. */
  readonly madeAt: string
  /** Versions of rakelight and of its tables. */
  readonly program: string
  readonly data: string
  /** Names of the files that show it, newest last, relative to the job. */
  readonly files: readonly string[]
  /** What differs from the version before it; none for the first. */
  readonly changes: readonly JobChange[]
}

export interface AddedNotes {
  readonly file: NotesFile
  /** Notes and answers that were not there before. */
  readonly added: number
}

export interface SignoffState {
  /** File name of the record. */
  readonly name: string
  readonly record: SignoffRecord
  readonly round: Round
  /** Where the record is not what its own hashes say; none where all fits. */
  readonly broken: readonly Broken[]
  /** Against the job and its files as they are now; null where the record cannot be trusted. */
  readonly standing: SignoffStanding | null
}

export interface ComparedPictures {
  /** What a screen shows of each, sRGB. */
  readonly a: Picture
  readonly b: Picture
  /** By the colours of `differenceSteps`. */
  readonly difference: Picture
  readonly numbers: DifferenceNumbers
  /** From A to B. */
  readonly changes: readonly JobChange[]
}

/** What lies beside a saved job: versions, notes and sign-off. */
export const signingRequests = {
  /** Versions of a saved job that went out, newest first. */
  versions: v.object({ jobFileId: fileId }),
  /** The notes beside a saved job. */
  notes: v.object({ jobFileId: fileId }),
  /** Adds notes and answers to those beside the job; whatever is there stays. Parsed again by `checkNoteList`. */
  addNotes: v.object({ jobFileId: fileId, notes: v.array(v.unknown()) }),
  /** Lays notes that came back in a file to those beside the job. */
  mergeNotes: v.object({ jobFileId: fileId, notesFileId: fileId }),
  /** The record of the job's sign-off and how it stands against the job as it is now; null where there is none. */
  signoff: v.object({ jobFileId: fileId, artFileId: fileId, job: anyJob }),
  /**
   * Adds what somebody wants to the record. A new one is begun where there is none and where the job is no longer what it
   * speaks of; the one before is kept beside it.
   */
  addSignoff: v.object({ jobFileId: fileId, artFileId: fileId, job: anyJob, wish: signWish }),
  /** Two versions of a saved job under the job's own light, held and shown alike; null is the job as it is now. */
  comparePicture: v.object({
    jobFileId: fileId,
    artFileId: fileId,
    taskId,
    job: anyJob,
    a: v.nullable(versionId),
    b: v.nullable(versionId),
    width: pictureSide(1024),
    height: pictureSide(1024),
  }),
} as const

/** What each of them answers. */
export interface SigningAnswers {
  versions: readonly VersionRef[]
  notes: NotesFile
  addNotes: AddedNotes
  mergeNotes: AddedNotes & { readonly mark: NotesMark }
  signoff: SignoffState | null
  addSignoff: SignoffState
  comparePicture: ComparedPictures
}
