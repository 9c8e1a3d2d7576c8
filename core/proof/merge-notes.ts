import { canonicalJson } from '../base/canonical-json.ts'
import { BadInput } from '../base/finding.ts'
import { type Answer, type Note, type NotesFile, noteLimits } from './notes.ts'
import { shortId } from './version.ts'

/** How a file of notes stands to a job. */
export type NotesMark =
  /** Written on the job's newest version, or on the job itself. */
  | { readonly kind: 'newest' }
  /** Written on an older version of the job. */
  | { readonly kind: 'older'; readonly of: string; readonly madeAt: string }
  /** Its version is not in the job's list; the job's name is the same. */
  | { readonly kind: 'unlisted'; readonly of: string }

/**
 * How notes stand to a job, by its list of versions, oldest first.
 * Throws BadInput, naming the job that they belong to, for notes of another job.
 * @param name of the notes' file, for messages
 */
export function notesMark(
  { jobName, of }: Pick<NotesFile, 'jobName' | 'of'>,
  job: {
    readonly name: string
    readonly versions: readonly { readonly id: string; readonly madeAt: string }[]
  },
  name: string,
): NotesMark {
  const listed = of === null ? undefined : job.versions.find(one => one.id === of)
  if (listed === undefined && jobName !== job.name)
    throw new BadInput(
      'notes-of-another-job',
      name,
      'field "jobName"',
      `the notes belong to ${JSON.stringify(jobName)}${of === null ? '' : `, version ${shortId(of)}`}, not to ${JSON.stringify(job.name)}`,
      'Open that job and take them in there',
    )
  if (of === null || job.versions.at(-1)?.id === of) return { kind: 'newest' }
  return listed === undefined
    ? { kind: 'unlisted', of }
    : { kind: 'older', of: listed.id, madeAt: listed.madeAt }
}

/**
 * All notes of two lists. A note is told by everything but its answers: two that have one id and differ are both kept,
 * one after the other. Answers are those of both, each once. The order is by time, so it does not matter who comes first.
 * Throws BadInput where they would be more than a file holds.
 * @param name of the file, for messages
 */
export function mergeNotes(a: readonly Note[], b: readonly Note[], name: string): readonly Note[] {
  const merged = new Map<string, Note>()
  for (const note of [...a, ...b]) {
    const key = noteKey(note)
    const known = merged.get(key)
    merged.set(key, { ...note, answers: mergeAnswers(known?.answers ?? [], note.answers) })
  }
  const notes = [...merged].sort(byTime).map(([, note]) => note)
  if (notes.length > noteLimits.notes) throw full(name, `${notes.length} notes`, noteLimits.notes)
  const long = notes.find(note => note.answers.length > noteLimits.answers)
  if (long !== undefined)
    throw full(name, `${long.answers.length} answers to note ${long.id}`, noteLimits.answers)
  return notes
}

/** Ids under which notes differ: somebody changed one, or two programs made up the same id. */
export function conflicts(notes: readonly Note[]): ReadonlySet<string> {
  const seen = new Set<string>()
  return new Set(notes.map(note => note.id).filter(id => seen.size === seen.add(id).size))
}

/** Notes and answers of `after` that `before` has not. */
export function addedCount(before: readonly Note[], after: readonly Note[]): number {
  const pieces = (notes: readonly Note[]) =>
    new Set(
      notes.flatMap(note => [
        noteKey(note),
        ...note.answers.map(answer => `${noteKey(note)} ${canonicalJson(answer)}`),
      ]),
    )
  const known = pieces(before)
  return [...pieces(after)].filter(piece => !known.has(piece)).length
}

/** Everything of a note but its answers. */
function noteKey({ answers: _, ...said }: Note): string {
  return canonicalJson(said)
}

function mergeAnswers(a: readonly Answer[], b: readonly Answer[]): readonly Answer[] {
  return [...new Map([...a, ...b].map(one => [canonicalJson(one), one]))].sort(byTime).map(([, one]) => one)
}

/** By time, and where that is the same by the text of all that was said. */
function byTime(
  a: readonly [string, { readonly at: string }],
  b: readonly [string, { readonly at: string }],
) {
  return Date.parse(a[1].at) - Date.parse(b[1].at) || (a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : 0)
}

const full = (name: string, what: string, most: number): BadInput =>
  new BadInput(
    'notes-full',
    name,
    'the notes',
    `would hold ${what}; a file holds ${most}`,
    'Move the file away and begin a new one',
  )
