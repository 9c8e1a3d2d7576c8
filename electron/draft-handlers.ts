import { basename } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import type { Handlers } from '../core/host/contract.ts'
import { blankFileId } from '../core/host/file-ref.ts'
import type { OpenedJob } from '../core/host/files.ts'
import { checkJob } from '../core/job/parse.ts'
import type { Drafts } from './drafts.ts'
import { fileState } from './file-state.ts'
import { hashFile } from './hash-file.ts'
import type { PageFiles } from './page-files.ts'

/** Work that nobody saved, kept for the next sitting. */
export function draftHandlers(
  drafts: Drafts,
  { book, assets }: PageFiles,
): Pick<Handlers, 'keepDraft' | 'drafts' | 'openDraft' | 'dropDraft'> {
  return {
    keepDraft: async ({ draftId, fileId, artFileId, job: given }) => {
      const job = checkJob(given, 'the job')
      const art = artFileId === blankFileId ? null : book.get(artFileId)
      const own = fileId === null ? null : book.get(fileId)
      await drafts.keep(draftId, {
        job,
        artPath: art?.path ?? null,
        artName: art?.ref.name ?? 'a job without art',
        jobPath: own?.origin === 'path' ? own.path : null,
        files: assets.foundFor(job),
        savedAt: Date.now(),
      })
      return null
    },

    drafts: async ({ draftId }) =>
      (await drafts.left(draftId)).map(({ id, draft }) => ({
        id,
        name: draft.jobPath === null ? draft.artName : basename(draft.jobPath),
        savedAt: draft.savedAt,
      })),

    openDraft: async ({ ownId, draftId }): Promise<OpenedJob> => {
      const draft = (await drafts.left(ownId)).find(one => one.id === draftId)?.draft
      if (draft === undefined) throw goneDraft
      const { job, jobPath, artPath } = draft
      // Its window had read these files: the user agreed to them then.
      for (const { sha256, path } of draft.files) await assets.again(sha256, path)
      const file = jobPath === null ? null : book.note(jobPath).ref
      const name = jobPath === null ? draft.artName : basename(jobPath)
      if (job.art === null || artPath === null) return { file, name, job, art: { state: 'none' } }
      if ((await fileState(artPath)) === null)
        return { file, name, job, art: { state: 'missing', path: job.art.path } }
      const same = (await hashFile(artPath)) === job.art.sha256
      return {
        file,
        name,
        job,
        art: { state: same ? 'found' : 'changed', file: book.note(artPath, draft.artName).ref },
      }
    },

    dropDraft: async ({ draftId }) => {
      await drafts.drop(draftId)
      return null
    },
  }
}

const goneDraft = new BadInput(
  'draft-gone',
  'the unsaved work',
  'its copy',
  'is no longer there',
  'Open the job or its art',
)
