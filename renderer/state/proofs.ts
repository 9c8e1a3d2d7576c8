import type { SignoffState, VersionRef } from '../../core/host/signing.ts'
import type { NotesMark } from '../../core/proof/merge-notes.ts'
import type { NotesFile } from '../../core/proof/notes.ts'
import { type CheckRun, inView, type ProofsView, type State } from './state.ts'
import { createStore, type Store } from './store.ts'

/** What can be sent out, in the order of the sheet. */
export const sendKinds = ['page', 'movie', 'pictures', 'plates', 'sheet'] as const
export type SendKind = (typeof sendKinds)[number]

/** Something on its way out. */
export interface Sending {
  readonly running: (CheckRun & { readonly startedAt: number }) | null
  /** Why the last try came to nothing. */
  readonly failed: string | null
  /** What the last try made, a line a file: its name, its size, where it went. */
  readonly made: readonly string[]
}

/** What lies beside a saved job. */
export type Beside = 'notes' | 'versions' | 'signoff'

/** What came of taking in a file of notes. */
export interface TakenIn {
  readonly name: string
  /** Notes and answers that were not there before. */
  readonly added: number
  readonly mark: NotesMark
}

/** What the sheet of proofs keeps besides the job. */
export interface Proofs {
  readonly sending: Readonly<Record<SendKind, Sending>>
  /** The job's file that all below belongs to. */
  readonly of: string | null
  /** Null until they were read. */
  readonly notes: NotesFile | null
  /** Newest first; null until they were read. */
  readonly versions: readonly VersionRef[] | null
  /** Null where there is none, or until it was read. */
  readonly signoff: SignoffState | null
  readonly takenIn: TakenIn | null
  /** Why the host could not do what was last asked of it. */
  readonly failed: Readonly<Record<Beside, string | null>>
  /** Who wrote or signed last in this window. */
  readonly by: string
}

export const noBeside = {
  notes: null,
  versions: null,
  signoff: null,
  takenIn: null,
  failed: { notes: null, versions: null, signoff: null },
} as const satisfies Partial<Proofs>

const notSent: Sending = { running: null, failed: null, made: [] }

const firstProofs: Proofs = {
  sending: { page: notSent, movie: notSent, pictures: notSent, plates: notSent, sheet: notSent },
  of: null,
  ...noBeside,
  by: '',
}

const stores = new WeakMap<Store<State>, Store<Proofs>>()

/** The proofs of a window: the sheet makes them, the table shows their notes. */
export function proofsOf(store: Store<State>): Store<Proofs> {
  const known = stores.get(store) ?? createStore(firstProofs)
  stores.set(store, known)
  return known
}

/** Another look at the sheet. */
export const lookAtProofs = (state: State, change: Partial<ProofsView>): State =>
  inView(state, { proofs: { ...state.view.proofs, ...change } })
