import type { BoxMm } from '../../core/checks/finding.ts'
import type { PanelPose } from '../../core/reference/scene.ts'
import { inView, type State } from './state.ts'
import { look } from './steps.ts'

/** A place of the panel that the checks speak of. */
export interface Place {
  readonly key: string
  readonly title: string
  readonly box: BoxMm
  /** How the panel is held there; null leaves it as it is. */
  readonly held: PanelPose | null
}

/**
 * Outlines the place and holds the panel as it says, under the job's own lamps: a light run ends for it. From place to
 * place, the way back leads to before the first.
 */
export function showPlace(state: State, { key, title, box, held }: Place): State {
  const { job, view } = state
  if (job === null) return state
  const { timeS } = view.run
  const before = view.shown?.before ?? { pose: job.view.pose, zoom: view.zoom, timeS }
  const there = held === null ? state : look(atTime(state, null), { pose: held })
  return inView(there, { shown: { key, title, box, before }, compare: null, spot: null })
}

/** Back to how the panel was held and looked at. */
export function goBack(state: State): State {
  const { shown } = state.view
  if (shown === null) return state
  const { pose, zoom, timeS } = shown.before
  return inView(look(atTime(state, timeS), { pose }), { zoom, shown: null })
}

/** The light run stands there; null: nothing runs. */
const atTime = (state: State, timeS: number | null): State =>
  inView(state, { run: { ...state.view.run, timeS, stood: null, playing: false } })

/** The view stays, without the outline. */
export const stayHere = (state: State): State => inView(state, { shown: null })

/** Whether the sheet lists the marked areas. */
export const listsMarks = ({ view }: State): boolean =>
  view.sheet === 'checks' && view.checks.section === 'marks'

/** Whether the table shows a place now, or the marked areas while they are listed. */
export function showsPlaces(state: State): boolean {
  const { view, job } = state
  const marks = listsMarks(state) && job !== null && job.marked.length > 0
  return view.drawing === null && (view.shown !== null || marks)
}
