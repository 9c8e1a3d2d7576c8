import type { EyePose } from '../job/job.ts'
import type { LampPose, PanelPose } from '../reference/scene.ts'

export const notesFormat = 'rakelight-notes'
export const notesVersion = 1

/** Notes on a job, as they lie beside it or come back from a proof. */
export interface NotesFile {
  readonly format: typeof notesFormat
  readonly version: typeof notesVersion
  /** File name of the job. */
  readonly jobName: string
  /** Id of the version whose proof wrote the file; null for the job's own. */
  readonly of: string | null
  readonly notes: readonly Note[]
}

/** A comment that is pinned to a place, under a lamp, in a view. What was said once stays; answers are added. */
export interface Note {
  /** Made up by who writes it: 8 to 64 letters, digits and `-`. */
  readonly id: string
  /** Id of the version that was looked at; null where it was the job itself. */
  readonly of: string | null
  readonly author: string
  /** ISO 8601, UTC. */
  readonly at: string
  readonly text: string
  /** mm from the panel's lower left corner, y up. */
  readonly place: { readonly xMm: number; readonly yMm: number }
  /** The lamp in the hand. */
  readonly lamp: LampPose
  readonly view: { readonly pose: PanelPose; readonly eye: EyePose }
  readonly answers: readonly Answer[]
}

export interface Answer {
  readonly author: string
  /** ISO 8601, UTC. */
  readonly at: string
  /** May be empty where it only settles or opens. */
  readonly text: string
  /** What the note is from then on; null where the answer leaves it as it is. */
  readonly state: NoteState | null
}

export type NoteState = (typeof noteStates)[number]
export const noteStates = ['open', 'settled'] as const

export const noteLimits = {
  notes: 2000,
  answers: 200,
  /** Characters. */
  text: 4000,
  author: 120,
} as const

/** A notes file without notes. */
export function emptyNotes(jobName: string, of: string | null): NotesFile {
  return { format: notesFormat, version: notesVersion, jobName, of, notes: [] }
}

/** What the last answer that said so made of it. Answers are in the order of their time. */
export function noteState({ answers }: Pick<Note, 'answers'>): NoteState {
  return answers.findLast(one => one.state !== null)?.state ?? 'open'
}

/** The text of a notes file. */
export function notesText(file: NotesFile): string {
  return `${JSON.stringify(file, null, 2)}\n`
}
