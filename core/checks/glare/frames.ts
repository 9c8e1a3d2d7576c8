import { checkCancelled, type Task } from '../../base/task.ts'
import type { PanelPose } from '../../reference/scene.ts'
import { type ClimbSteps, climbed } from './climb.ts'
import { type LightOf, lookAt } from './look.ts'
import { type Measured, measurer } from './measure.ts'
import type { Frame, Subject } from './subject.ts'

/** The frames that a proof is pinned with. */
export interface Frames {
  /** Brightest in the mean. */
  readonly glare: Frame
  readonly darkest: Frame
  /** Most colour without glare. */
  readonly best: Frame
}

/** Places that a subject is judged by. */
export interface Fineness {
  /** At every view of the grid. */
  readonly scout: number
  /** Where it climbs. */
  readonly climb: number
}

/** What is searched for, and how. */
interface Goal {
  readonly worth: (frame: Frame) => number
  readonly what: Measured
  /** Views that are looked at by more places before hills are chosen; 0: hills are those of the first look. */
  readonly again: number
  /** Whether the given poses are looked at by more places too. */
  readonly given: boolean
  /** Hills that climbs begin on. */
  readonly hills: number
  readonly far: ClimbSteps
  /** Where those ended is judged by many places; of the best so many are gone on from. */
  readonly ends: number
  /** Null: that is good enough. */
  readonly near: ClimbSteps | null
  /** The light that a climb from a pose goes by. */
  readonly lightOf: (from: PanelPose) => LightOf
}

const goals: Readonly<Record<keyof Frames, Goal>> = {
  // A flash outshines the room by far, and is narrow.
  glare: {
    worth: ({ luminance }) => luminance,
    what: 'luminance',
    again: 8,
    given: true,
    hills: 6,
    far: [2.5, 2.5],
    ends: 2,
    near: [1.25, 0.3125],
    lightOf: () => 'lamps',
  },
  // Darkness is wide.
  darkest: {
    worth: ({ luminance }) => -luminance,
    what: 'luminance',
    again: 0,
    given: false,
    hills: 3,
    far: [10, 2.5],
    ends: 0,
    near: null,
    lightOf: () => 'all',
  },
  best: {
    worth: ({ chroma }) => chroma,
    what: 'chroma',
    again: 12,
    given: false,
    hills: 6,
    far: [2.5, 2.5],
    ends: 1,
    near: [1.25, 0.625],
    lightOf: from => from,
  },
}

/**
 * Worst glare, darkest and best frame of a subject under the scene's own lamps, over both tilts and the turn. The
 * views and the poses that are given are where the search begins; it climbs to 0.3°, and what it ends at is measured
 * anew. Null where the subject is never in sight. Throws Cancelled when told to stop.
 * @param glare Y from which a site has no colour to enjoy
 */
export function framesOf(
  subject: Subject,
  glare: number,
  views: readonly PanelPose[],
  given: readonly PanelPose[],
  fineness: Fineness,
  task?: Task,
): Frames | null {
  const looker = (places: number) => {
    const faces = subject.faces(places)
    return (pose: PanelPose, lightOf: LightOf): Frame | null => {
      checkCancelled(task)
      return lookAt(subject, faces, pose, glare, lightOf)
    }
  }
  const scout = looker(fineness.scout)
  const close = looker(fineness.climb)
  const { judged, measured } = measurer(subject, glare, task)
  const lookedAt = (all: readonly PanelPose[]) => all.flatMap(pose => scout(pose, roughly(pose)) ?? [])
  const likely = lookedAt(given)
  const looked = [...likely, ...lookedAt(views)]
  if (looked.length === 0) return null
  const found = ({ worth, what, again, given: withGiven, hills, far, ends, near, lightOf }: Goal): Frame => {
    const rank = (frame: Frame): number => Math.round(Math.log(Math.abs(worth(frame)) + least) / alike)
    const up = worth({ pose: subject.scene.view.pose, luminance: 1, chroma: 1 })
    const byWorth = (a: Frame, b: Frame): number => up * (rank(b) - rank(a))
    const climbs = (frames: readonly Frame[], look: typeof scout, steps: ClimbSteps): readonly Frame[] =>
      frames
        .flatMap(({ pose }) => {
          const light = lightOf(pose)
          const from = look(pose, light)
          return from === null ? [] : [climbed(from, next => look(next, light), worth, steps)]
        })
        .sort(byWorth)
    const nearby = (frames: Iterable<Frame>): readonly Frame[] =>
      [...frames].flatMap(({ pose }) => close(pose, lightOf(roughly(pose))) ?? []).sort(byWorth)
    const seen = looked.toSorted(byWorth)
    const begin =
      again === 0 ? seen : nearby(new Set([...(withGiven ? likely : []), ...hillsOf(seen, again)]))
    const reached = climbs(hillsOf(begin, hills), again === 0 ? scout : close, far)
    const surely = (frames: readonly Frame[]): readonly Frame[] =>
      frames.flatMap(({ pose }) => judged(pose, lightOf(pose)) ?? [])
    const sure = surely(reached).toSorted(byWorth)
    const last = near === null ? [] : surely(climbs(sure.slice(0, ends), close, near))
    const [best = seen[0]!] = [...sure, ...last].sort(byWorth)
    return measured(best, what)
  }
  const of = (goal: keyof Frames, i: number): Frame => {
    task?.progress?.(i / 3, subject.name)
    return found(goals[goal])
  }
  return { glare: of('glare', 0), darkest: of('darkest', 1), best: of('best', 2) }
}

/** Frames whose worth differs by less, as a part, are alike: the first of them is taken, whatever an edit elsewhere changes. */
const alike = 0.005
/** What is darker, or has less colour, is nothing. */
const least = 1e-6

/** A pose near by, the same for all around: its room's light is theirs, near enough to tell where to begin. */
function roughly({ tiltForwardDeg, tiltSideDeg, turnDeg }: PanelPose): PanelPose {
  const to = (step: number, deg: number) => step * Math.round(deg / step)
  return {
    tiltForwardDeg: to(20, tiltForwardDeg),
    tiltSideDeg: to(20, tiltSideDeg),
    turnDeg: to(30, turnDeg),
  }
}

/** The first few that are no neighbours of one another: each on a hill of its own, as far as a grid can tell. */
function hillsOf(frames: readonly Frame[], most: number): readonly Frame[] {
  const chosen: Frame[] = []
  for (const frame of frames) {
    if (chosen.length === most) break
    if (chosen.every(({ pose }) => apart(pose, frame.pose))) chosen.push(frame)
  }
  return chosen
}

function apart(a: PanelPose, b: PanelPose): boolean {
  const turn = a.turnDeg - b.turnDeg
  return (
    Math.abs(a.tiltForwardDeg - b.tiltForwardDeg) > tiltApartDeg ||
    Math.abs(a.tiltSideDeg - b.tiltSideDeg) > tiltApartDeg ||
    Math.abs(turn - 360 * Math.round(turn / 360)) > turnApartDeg
  )
}
const tiltApartDeg = 4
const turnApartDeg = 20
