import * as v from 'valibot'
import type { Job } from '../job/job.ts'
import { anyJob, fileId } from './fields.ts'
import type { FileRef } from './file-ref.ts'

/** A file that was open before. Its path stays with the host; the folder's own name tells two of a name apart. */
export interface RecentRef extends FileRef {
  readonly folder: string
  /** The files that were opened together with it. */
  readonly beside: readonly FileRef[]
  /** Milliseconds since 1970; null when nobody noted it. */
  readonly openedAt: number | null
}

/** Work that was not saved when its window ended. */
export interface DraftRef {
  readonly id: string
  /** Of the job's file, or of its art. */
  readonly name: string
  /** Milliseconds since 1970. */
  readonly savedAt: number
}

export interface OpenedJob {
  /** Null for work that was never saved. */
  readonly file: FileRef | null
  /** For messages. */
  readonly name: string
  readonly job: Job
  /** `outside`: the art lies outside the job's folder and nobody has agreed to read it yet. */
  readonly art:
    | { readonly state: 'found' | 'changed' | 'outside'; readonly file: FileRef }
    | { readonly state: 'missing'; readonly path: string }
    /** The job has no art yet. */
    | { readonly state: 'none' }
}

/** A file that was written; its path stays with the host. */
export interface WrittenFile {
  readonly name: string
  /** The folder's own name. */
  readonly folder: string
}

/** Jobs and files: opened, saved, and kept where nobody saved them. */
export const fileRequests = {
  recent: v.object({}),
  /** Shows the host's own dialog; null when dismissed. */
  chooseFile: v.object({ what: v.picklist(['art', 'job', 'any', 'profile', 'notes']) }),
  /** The same for art, which may be several files, for whatever can be opened, and for a folder of plates; none when dismissed. */
  chooseArt: v.object({ what: v.picklist(['art', 'any', 'plates']) }),
  /** `allowOutside`: the user agreed to read art that lies outside the job's folder. */
  openJob: v.object({ fileId, allowOutside: v.optional(v.boolean(), false) }),
  /** Lays the demo carton out in the data folder and opens its job as one that was never saved. */
  demo: v.object({}),
  /** Saves to the job's own file, or asks for a name when `fileId` is null. Null when dismissed. */
  saveJob: v.object({ fileId: v.nullable(fileId), artFileId: fileId, job: anyJob }),
  /** Writes something that goes out, whole or not at all, where the user says. Null when dismissed. */
  saveFile: v.object({
    name: v.pipe(v.string(), v.minLength(1), v.maxLength(200)),
    bytes: v.instance(Uint8Array),
    artFileId: fileId,
  }),
  /** Keeps unsaved work in the data folder, under an id that the window keeps as long as it lives. */
  keepDraft: v.object({ draftId: fileId, fileId: v.nullable(fileId), artFileId: fileId, job: anyJob }),
  /** Work that was left unsaved by windows that are gone, and by this one before it was loaded again. */
  drafts: v.object({ draftId: fileId }),
  openDraft: v.object({ ownId: fileId, draftId: fileId }),
  dropDraft: v.object({ draftId: fileId }),
} as const

/** What each of them answers. */
export interface FileAnswers {
  recent: readonly RecentRef[]
  chooseFile: FileRef | null
  chooseArt: readonly FileRef[]
  openJob: OpenedJob
  demo: OpenedJob
  saveJob: { readonly file: FileRef; readonly job: Job } | null
  saveFile: WrittenFile | null
  keepDraft: null
  drafts: readonly DraftRef[]
  openDraft: OpenedJob
  dropDraft: null
}
