import { checkCancelled, type Task } from '../../base/task.ts'
import type { PanelPose } from '../../reference/scene.ts'
import type { View } from '../sweep/view-grid.ts'
import { climbed } from './climb.ts'
import { measurer } from './measure.ts'
import { type Frame, lookAt, type Subject } from './subject.ts'

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
  /** At every view of the grid, and in the first climb. */
  readonly scout: number
  /** In the last climb. */
  readonly climb: number
}

/** Frames that the first climb begins from, and the last, of each kind. */
const begun = 4
const finished = 2
/** Steps of either climb, degrees. */
const farSteps = [2.5, 0.6] as const
const nearSteps = [0.6, 0.15] as const

/**
 * Worst glare, darkest and best frame of a subject under the scene's own lamps, over both tilts and the turn. The views
 * of the grid and the poses that are given are where the search begins; it climbs to 0.15°, and what it ends at is
 * measured anew. Null where the subject is never in sight. Throws Cancelled when told to stop.
 * @param glare Y from which a site has no colour to enjoy
 */
export function framesOf(
  subject: Subject,
  glare: number,
  views: readonly View[],
  poses: readonly PanelPose[],
  fineness: Fineness,
  task?: Task,
): Frames | null {
  const looker = (places: number) => {
    const faces = subject.faces(places)
    return (pose: PanelPose): Frame | null => {
      checkCancelled(task)
      return lookAt(subject, faces, pose, glare)
    }
  }
  const scout = looker(fineness.scout)
  const looked = [...poses, ...views.map(({ pose }) => pose)].flatMap(pose => scout(pose) ?? [])
  if (looked.length === 0) return null
  const close = looker(fineness.climb)
  const measured = measurer(subject, glare, task)
  const found = (worth: (frame: Frame) => number): Frame => {
    const byWorth = (a: Frame, b: Frame): number => worth(b) - worth(a)
    const begin = hills(looked.toSorted(byWorth))
    const far = begin.map(frame => climbed(frame, scout, worth, farSteps))
    const near = far
      .flatMap(({ pose }) => close(pose) ?? [])
      .sort(byWorth)
      .slice(0, finished)
      .map(frame => climbed(frame, close, worth, nearSteps))
    const [end = begin[0]!] = near.sort(byWorth)
    return measured(end)
  }
  const kinds = [
    ({ luminance }: Frame) => luminance,
    ({ luminance }: Frame) => -luminance,
    ({ chroma }: Frame) => chroma,
  ]
  const [light, dark, colorful] = kinds.map((worth, i) => {
    task?.progress?.(i / kinds.length, subject.name)
    return found(worth)
  })
  return { glare: light!, darkest: dark!, best: colorful! }
}

/** The first few that are no neighbours of one another: each on a hill of its own, as far as a grid can tell. */
function hills(frames: readonly Frame[]): readonly Frame[] {
  const chosen: Frame[] = []
  for (const frame of frames) {
    if (chosen.length === begun) break
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
const tiltApartDeg = 12
const turnApartDeg = 20
