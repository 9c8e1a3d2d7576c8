import type { Job } from '../../core/job/job.ts'
import { keptInVariant } from '../../core/job/variants.ts'
import { inSession, noChecks, type State } from './state.ts'
import { noHistory, recorded, settled, stepBack, stepForward } from './undo.ts'

/**
 * The state with a changed job, as a step that can be taken back.
 * @param gesture names a drag or a run of key presses that is one step; null for a step of its own
 */
export function decide(state: State, edit: (job: Job) => Job, gesture: string | null = null): State {
  if (state.job === null) return state
  const job = keptInVariant(state.job, edit(state.job))
  if (job === state.job) return state
  const history = recorded(state.session.history, state.job, gesture)
  return { ...inSession(state, { history }), job }
}

/** How the panel is held, and how brightly it is shown. */
export type Looks = Pick<Job['view'], 'pose' | 'exposureStops'>

const looksOf = ({ pose, exposureStops }: Job['view']): Looks => ({ pose, exposureStops })

/** How the panel is looked at is saved with the job, but is no decision: no step, nothing to lose. */
export function look(state: State, view: Partial<Looks>): State {
  if (state.job === null) return state
  return { ...state, job: { ...state.job, view: { ...state.job.view, ...view } } }
}

/** The gesture has ended. */
export const settle = (state: State): State => {
  const history = settled(state.session.history)
  return history === state.session.history ? state : inSession(state, { history })
}

export const undo = (state: State): State => step(state, stepBack)
export const redo = (state: State): State => step(state, stepForward)

function step(state: State, take: typeof stepBack): State {
  if (state.job === null) return state
  const taken = take(state.session.history, state.job)
  if (taken === null) return state
  // How it is looked at is no step, and neither is where the art lies.
  const view = { ...taken.value.view, ...looksOf(state.job.view) }
  const job = { ...taken.value, view, art: artAfter(state.job.art, taken.value.art) }
  return { ...inSession(state, { history: taken.history }), job }
}

/** The art where it lies now, read as it was then: how a drawing is read is a step. */
function artAfter(now: Job['art'], then: Job['art']): Job['art'] {
  if (now === null || then === null || (now.ppi === then.ppi && now.readAs === then.readAs)) return now
  const sameFiles = now.path === then.path && now.sha256 === then.sha256 && now.beside === then.beside
  if (sameFiles) return then
  const { ppi: _, readAs: __, ...files } = now
  const { ppi, readAs } = then
  return { ...files, ...(ppi === undefined ? {} : { ppi }), ...(readAs === undefined ? {} : { readAs }) }
}

/** A job that has just been opened or made. */
export const begin = (state: State, job: Job, kept: Job): State => ({
  ...inSession(state, { history: noHistory, kept, checks: noChecks, signed: null }),
  job,
})

/** True when closing now would lose a decision. */
export function unsaved(state: State): boolean {
  const { job } = state
  const { kept } = state.session
  if (job === null || kept === null) return false
  const { view } = job
  return differs({ ...job, view: kept.view }, kept) || differs({ ...view, ...looksOf(kept.view) }, kept.view)
}

/** Whether any field is another one, or is there in one of them only. */
const differs = <T extends object>(some: T, kept: T): boolean =>
  (Object.keys({ ...kept, ...some }) as (keyof T)[]).some(field => some[field] !== kept[field])
