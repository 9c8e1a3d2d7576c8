import { BadInput } from '../../core/base/finding.ts'
import { setCarton, setOverlay } from '../../core/job/edit.ts'
import type { Job, LampPose, PanelPose } from '../../core/job/job.ts'
import { setLamp } from '../../core/job/lamps.ts'
import { checkJob } from '../../core/job/parse.ts'
import type { Zoom } from '../../core/reference/camera.ts'
import { wholeView } from '../../core/reference/camera.ts'
import type { KeyAction } from '../keys.ts'
import { lampMoved, straightOn, tilted, turned, within } from '../stage/angles.ts'
import { movedBy } from '../stage/pinch.ts'
import { sceneOf } from './look.ts'
import { inSession, inView, type State } from './state.ts'
import { decide, look, redo, undo } from './steps.ts'

/** Edits of the whole state that the hand and the keyboard make. */

/**
 * Whoever takes panel or lamp in hand during a light run, or where the table stands for a note, goes on from there. The
 * eye keeps its distance.
 */
function takenOver(state: State): State {
  const { job, view } = state
  if (job === null || (view.run.timeS === null && view.run.stood === null)) return state
  const { light, view: seen } = sceneOf(job, view.run)
  const run = { ...view.run, timeS: null, stood: null, playing: false }
  const stood = (old: Job): Job => ({
    ...old,
    light,
    view: { ...old.view, pose: seen.pose, eyeDistanceMm: seen.eyeDistanceMm },
  })
  return decide(inView(state, { run }), stood, 'hand')
}

export const holdPanel = (state: State, pose: PanelPose): State => look(takenOver(state), { pose })

/** The lamp that is being set: always one that there is. */
export const chosenLamp = ({ job, view }: State): number =>
  job === null || job.light.lamps[view.lamp] === undefined ? 0 : view.lamp

/** Moves a lamp and goes on setting that one. Taking one that a light run moves, as it moves the first, ends the run. */
export function moveLamp(state: State, index: number, pose: LampPose): State {
  const taken = index === 0 || runMoves(state, index) ? takenOver(state) : state
  return decide(inView(taken, { lamp: index }), setLamp(index, { pose }), `lamp ${index}`)
}

function runMoves({ job, view }: State, index: number): boolean {
  const path = job?.paths[view.run.path]
  return view.run.timeS !== null && (path?.keys.some(key => key.others[index - 1]) ?? false)
}

/**
 * The state after a change of light or paths, unless a lamp then stood in the panel, here or along a path: such a job could
 * not be opened again. The lamp stays as it was then, and a line says why.
 */
export function soundLight(before: State, after: State): State {
  const same = after.job?.light === before.job?.light && after.job?.paths === before.job?.paths
  if (after.job === null || same) return after
  try {
    checkJob(after.job, 'Light')
  } catch (error) {
    if (!(error instanceof BadInput)) throw error
    return inSession(before, { message: { tone: 'error', text: error.message } })
  }
  return after
}

/** Three faces of a closed carton are seen so. */
const cartonPose: PanelPose = { tiltForwardDeg: -8, tiltSideDeg: 18, turnDeg: 0 }

/** The carton that the panel is folded into. One that lay straight on is turned a little, or its depth would not be seen. */
export function foldInto(state: State, carton: Job['carton']): State {
  if (state.job === null) return state
  const { pose } = state.job.view
  const straight = pose.tiltForwardDeg === 0 && pose.tiltSideDeg === 0 && pose.turnDeg === 0
  const folded = decide(state, setCarton(carton))
  return straight && state.job.carton === null && carton !== null ? holdPanel(folded, cartonPose) : folded
}

export const zoomTo = (state: State, zoom: Zoom): State => inView(state, { zoom })

export const putStraight = (state: State): State => inView(holdPanel(state, straightOn), { zoom: wholeView })

/** How far a key lifts the leaves: ink and white stand well apart, and little of them is out of sight. */
const keyLift = 0.4

/** What a key does to the state; keys that need the host are the app's. */
export function pressed(state: State, action: KeyAction): State {
  const { job, view } = state
  switch (action.do) {
    case 'undo':
      return undo(state)
    case 'redo':
      return redo(state)
    case 'help':
      return inView(state, { sheet: view.sheet === 'help' ? null : 'help' })
    case 'close':
      return view.sheet !== null ? inView(state, { sheet: null }) : inView(state, { spot: null, bare: false })
    case 'anything':
      return inView(state, { sheet: view.sheet === 'anything' ? null : 'anything' })
    case 'checks':
    case 'proofs':
      return job === null ? state : inView(state, { sheet: view.sheet === action.do ? null : action.do })
    case 'compare':
      return job === null || job.variants.length === 0
        ? state
        : inView(state, { compare: view.compare === 'designs' ? null : 'designs', spot: null })
    case 'marks':
      return inView(state, { marks: !view.marks })
    case 'bare':
      return inView(state, { bare: !view.bare })
    case 'open':
    case 'save':
    case 'saveAs':
      return state
  }
  if (job === null) return state
  const scene = sceneOf(job, view.run)
  switch (action.do) {
    case 'tilt':
      return holdPanel(state, tilted(scene.view.pose, action.forwardDeg, action.sideDeg))
    case 'turn':
      return holdPanel(state, turned(scene.view.pose, action.deg))
    case 'lamp': {
      const index = chosenLamp(state)
      const { pose } = scene.light.lamps[index] ?? scene.light.lamps[0]
      return soundLight(
        state,
        moveLamp(state, index, lampMoved(pose, action.azimuthDeg, action.elevationDeg)),
      )
    }
    case 'lift':
      return decide(state, setOverlay({ lift: (job.view.overlay?.lift ?? 0) > 0 ? 0 : keyLift }))
    case 'expose':
      return look(state, { exposureStops: within(job.view.exposureStops + action.stops, -6, 6) })
    case 'zoom': {
      const scale = within(view.zoom.scale * action.factor, 0.5, 40)
      return zoomTo(state, scale <= 1 ? { scale, x: 0, y: 0 } : { ...view.zoom, scale })
    }
    case 'move':
      return zoomTo(state, movedBy(view.zoom, -action.right, action.up, 1))
    case 'reset':
      return putStraight(state)
    case 'read':
      return inView(state, {
        spot: { xMm: job.panel.widthMm / 2, yMm: job.panel.heightMm / 2, pinned: true },
      })
    case 'play':
      return playOrHold(state)
  }
}

function playOrHold(state: State): State {
  const { run, stillMotion } = state.view
  const path = state.job?.paths[run.path]
  const length = path?.keys.at(-1)?.timeS ?? 0
  if (length === 0 || stillMotion) return state
  if (run.playing) return inView(state, { run: { ...run, playing: false } })
  const timeS = run.timeS === null || run.timeS >= length ? 0 : run.timeS
  return inView(state, { run: { ...run, playing: true, timeS } })
}
