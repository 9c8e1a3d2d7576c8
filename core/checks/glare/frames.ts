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
  /** Views that are looked at by more places, as the given poses are, before hills are chosen; 0: hills are those of the first look. */
  readonly again: number
  /** Hills that climbs begin on. */
  readonly hills: number
  readonly far: ClimbSteps
  /** From where the best of those ended, by more places; null: that is good enough. */
  readonly near: ClimbSteps | null
  /** The light that a climb from a pose goes by. */
  readonly lightOf: (from: PanelPose) => LightOf
}

const goals: Readonly<Record<keyof Frames, Goal>> = {
  // A flash outshines the room by far, and is narrow.
  glare: {
    worth: ({ luminance }) => luminance,
    what: 'luminance',
    again: 16,
    hills: 3,
    far: [2.5, 1.25],
    near: [0.625, 0.3125],
    lightOf: () => 'lamps',
  },
  // Darkness is wide.
  darkest: {
    worth: ({ luminance }) => -luminance,
    what: 'luminance',
    again: 0,
    hills: 3,
    far: [10, 2.5],
    near: null,
    lightOf: () => 'all',
  },
  best: {
    worth: ({ chroma }) => chroma,
    what: 'chroma',
    again: 12,
    hills: 2,
    far: [2.5, 1.25],
    near: [0.625, 0.3125],
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
  const measured = measurer(subject, glare, task)
  const lookedAt = (all: readonly PanelPose[]) => all.flatMap(pose => scout(pose, roughly(pose)) ?? [])
  const likely = lookedAt(given)
  const looked = [...likely, ...lookedAt(views)]
  if (looked.length === 0) return null
  const found = ({ worth, what, again, hills, far, near, lightOf }: Goal): Frame => {
    const byWorth = (a: Frame, b: Frame): number => worth(b) - worth(a)
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
    const begin = again === 0 ? seen : nearby(new Set([...likely, ...seen.slice(0, again)]))
    const ends = climbs(hillsOf(begin, hills), again === 0 ? scout : close, far)
    const best = near === null ? nearby(ends) : climbs(ends.slice(0, 1), close, near)
    return measured(best[0] ?? seen[0]!, what)
  }
  const of = (goal: keyof Frames, i: number): Frame => {
    task?.progress?.(i / 3, subject.name)
    return found(goals[goal])
  }
  return { glare: of('glare', 0), darkest: of('darkest', 1), best: of('best', 2) }
}

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
