import { basename, dirname, join } from 'node:path'
import { addedCount, mergeNotes, type NotesMark, notesMark } from '../core/proof/merge-notes.ts'
import { besideJob } from '../core/proof/names.ts'
import { emptyNotes, type Note, type NotesFile, notesText } from '../core/proof/notes.ts'
import { parseNotes } from '../core/proof/read-notes.ts'
import { readText } from './read-text.ts'
import { changeFile, textOrNull } from './shared-file.ts'
import { listVersions } from './version-book.ts'

/** Where a job's notes lie. */
export const notesPath = (jobPath: string): string =>
  join(dirname(jobPath), besideJob(basename(jobPath), 'notes'))

/** The notes beside a job; a file without any where there is none. */
export async function readNotes(jobPath: string): Promise<NotesFile> {
  const path = notesPath(jobPath)
  const text = await textOrNull(path)
  return text === null ? emptyNotes(basename(jobPath), null) : parseNotes(text, basename(path))
}

export interface AddedNotes {
  readonly file: NotesFile
  /** Notes and answers that were not there before. */
  readonly added: number
}

/** Adds notes and answers to those beside the job; whatever is there stays. */
export async function addNotes(jobPath: string, notes: readonly Note[]): Promise<AddedNotes> {
  const path = notesPath(jobPath)
  const name = basename(path)
  return changeFile(path, async text => {
    const before = text === null ? emptyNotes(basename(jobPath), null) : parseNotes(text, name)
    const file = { ...before, notes: mergeNotes(before.notes, notes, name) }
    return { text: notesText(file), value: { file, added: addedCount(before.notes, file.notes) } }
  })
}

/**
 * Lays notes that came back in a file to those beside the job.
 * Rejects with BadInput, saying which job they belong to, for notes of another job.
 */
export async function mergeReturned(
  jobPath: string,
  returnedPath: string,
): Promise<AddedNotes & { readonly mark: NotesMark }> {
  const name = basename(returnedPath)
  const returned = parseNotes(await readText(returnedPath), name)
  const versions = (await listVersions(jobPath)).map(one => one.version)
  const mark = notesMark(returned, { name: basename(jobPath), versions }, name)
  return { ...(await addNotes(jobPath, returned.notes)), mark }
}
