import { type Note, type NotesFile, noteState } from '../../core/proof/notes.ts'
import { sceneOf } from './look.ts'
import { lookAtProofs } from './proofs.ts'
import { inView, type Spot, type State } from './state.ts'
import { decide, look } from './steps.ts'

/** A note on what the table shows now. */
export function noteHere(
  state: State,
  { xMm, yMm }: Pick<Spot, 'xMm' | 'yMm'>,
  said: Pick<Note, 'id' | 'author' | 'at' | 'text'>,
): Note | null {
  if (state.job === null) return null
  const { light, view } = sceneOf(state.job, state.view.run)
  const [lamp] = light.lamps
  return {
    ...said,
    of: null,
    place: { xMm: hundredths(xMm), yMm: hundredths(yMm) },
    lamp: lamp.pose,
    view: {
      pose: view.pose,
      eye: { distanceMm: view.eyeDistanceMm, ...(view.eyeAt ?? { sideDeg: 0, riseDeg: 0 }) },
    },
    answers: [],
  }
}

/** What tells a note of a list: notes that were kept of two files may share an id. */
export const noteKey = ({ notes }: Pick<NotesFile, 'notes'>, at: number): string => {
  const id = notes[at]?.id ?? ''
  const before = notes.slice(0, at).filter(one => one.id === id).length
  return before === 0 ? id : `${id} ${before + 1}`
}

/** Lamp, panel and eye stand where they stood for the note; the job stays as it is. */
export function showNote(state: State, key: string, { lamp, view }: Pick<Note, 'lamp' | 'view'>): State {
  const { job } = state
  if (job === null) return state
  const { timeS } = state.view.run
  const { pose } = job.view
  const note = state.view.proofs.note ?? {
    before: { pose, zoom: state.view.zoom, timeS },
    job: { light: job.light, view: job.view },
  }
  const run = {
    ...state.view.run,
    timeS: null,
    playing: false,
    stood: { lamp, pose: view.pose, others: [], eye: view.eye },
  }
  const shown = inView(state, { run, spot: null, shown: null, compare: null })
  return lookAtProofs(shown, { note: { ...note, id: key } })
}

/** Back to how the job was lit and looked at; a hand that went on from the note has made a step, and this is one too. */
export function leaveNote(state: State): State {
  const { note } = state.view.proofs
  if (note === null || state.job === null) return state
  const { pose, zoom, timeS } = note.before
  const { light, view } = note.job
  const { eyeDistanceMm } = view
  const lit = decide(state, old =>
    old.light === light && old.view.eyeDistanceMm === eyeDistanceMm
      ? old
      : { ...old, light, view: { ...old.view, eyeDistanceMm } },
  )
  const run = { ...state.view.run, timeS, stood: null, playing: false }
  return lookAtProofs(inView(look(lit, { pose }), { zoom, run }), { note: null })
}

/** The table stays as it stands, without the note. */
export function stayAtNote(state: State): State {
  const { stood } = state.view.run
  const free = lookAtProofs(state, { note: null })
  if (stood === null || state.job === null) return free
  const { light, view } = sceneOf(state.job, state.view.run)
  return decide(inView(free, { run: { ...state.view.run, stood: null } }), old => ({
    ...old,
    light,
    view: { ...old.view, pose: view.pose, eyeDistanceMm: view.eyeDistanceMm },
  }))
}

/** How many are open and how many are settled. */
export function noteSums({ notes }: Pick<NotesFile, 'notes'>): {
  readonly open: number
  readonly settled: number
} {
  const open = notes.filter(note => noteState(note) === 'open').length
  return { open, settled: notes.length - open }
}

const hundredths = (mm: number): number => Math.round(100 * mm) / 100
