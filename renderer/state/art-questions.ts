import type { ImportedArt } from '../../core/host/art.ts'
import type { FileRef } from '../../core/host/file-ref.ts'
import type { ArtReading } from '../../core/job/job.ts'
import type { ArtQuestion } from './state.ts'

/** Puts a question to the user; null takes it away. */
export type Ask = (question: ArtQuestion | null) => void

/** Whether reading failed because a password is missing or wrong. */
export const isLocked = (error: unknown): boolean => codeOf(error).startsWith('password-')

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : ''

/** Asks for the password until it opens the file, or the user leaves it. */
export async function unlocked(
  ask: Ask,
  { name }: FileRef,
  first: unknown,
  read: (password: string) => Promise<ImportedArt | null>,
): Promise<ImportedArt | null> {
  for (let error = first; ; ) {
    const wrong = codeOf(error) === 'password-wrong'
    const password = await asked<string>(ask, answer => ({ kind: 'password', name, wrong, answer }))
    if (password === null) return null
    try {
      return await read(password)
    } catch (again) {
      if (!isLocked(again)) throw again
      error = again
    }
  }
}

/** Asks which page is meant, where there are several, and how it is read, where its inks cannot be told. */
export async function settled(
  ask: Ask,
  file: FileRef,
  imported: ImportedArt,
  read: (how: ArtReading) => Promise<ImportedArt | null>,
): Promise<ImportedArt | null> {
  let now = imported
  let how: ArtReading = {}
  const count = now.art.page?.count ?? 1
  if (count > 1) {
    const page = await asked<number>(ask, answer => ({ kind: 'page', file, count, answer }))
    if (page === null) return null
    how = { page }
    const chosen = page === now.art.page?.number && now.job.art?.page === page ? now : await read(how)
    if (chosen === null) return null
    now = chosen
  }
  const objects = now.art.page?.inexact ?? []
  if (objects.length === 0) return now
  const { name } = file
  const readAs = await asked<'inks' | 'layers'>(ask, answer => ({ kind: 'inexact', name, objects, answer }))
  if (readAs === null) return null
  return readAs === 'inks' ? now : read({ ...how, readAs })
}

/** The user's answer; null where the question was left. */
async function asked<T>(
  ask: Ask,
  question: (answer: (value: T | null) => void) => ArtQuestion,
): Promise<T | null> {
  try {
    return await new Promise<T | null>(resolve => ask(question(resolve)))
  } finally {
    ask(null)
  }
}
