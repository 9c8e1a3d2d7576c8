import { checkCancelled, type Task } from '../../base/task.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { cellOf, tiltAndTurn } from '../sweep/cell.ts'
import { narrowLamps } from '../sweep/narrow.ts'
import { emptyCellLight } from '../sweep/site-sweep.ts'
import { sceneUnder, usualGrid, usualTilts, usualTurns, type View, viewsOf } from '../sweep/view-grid.ts'
import { mirrorPose } from './mirror-pose.ts'
import { type Frame, lookAt, type Subject } from './subject.ts'

/** The frames that a proof is pinned with. */
export interface Frames {
  /** Brightest in the mean. */
  readonly glare: Frame
  readonly darkest: Frame
  /** Most colour without glare. */
  readonly best: Frame
}

/** Farthest tilt each way that is searched, degrees. */
const reachDeg = 60
/** First step of a climb, and how exact its end is. */
const firstStepDeg = 2.5
const lastStepDeg = 0.05
/** Hills that are climbed for each frame, besides the mirrors. */
const hills = 4

/**
 * Worst glare, darkest and best frame of a subject under the scene's own lamps, over both tilts and the turn: the grid
 * gives places to begin, each cell is looked over for flashes that none of its views meets, mirrors of the lamps are
 * begun at where they must be, and from all of these the search climbs to 0.05°. Null where it is never in sight.
 * Throws Cancelled when told to stop.
 */
export function framesOf(subject: Subject, glare: number, task?: Task): Frames | null {
  const { scene } = subject.faces[0]!
  const [lamp] = usualGrid(scene).lamps
  const views = viewsOf({ lamps: lamp === undefined ? [] : [lamp], tilts: usualTilts, turns: usualTurns })
  const looked: Frame[] = []
  const flashes: { readonly pose: PanelPose; readonly light: number }[] = []
  for (const [v, view] of views.entries()) {
    checkCancelled(task)
    task?.progress?.(v / views.length, subject.name)
    const frame = lookAt(subject, view.pose, glare)
    if (frame !== null) looked.push(frame)
    flashes.push(flashIn(subject, view))
  }
  if (looked.length === 0) return null
  const brightest = flashes.sort((a, b) => b.light - a.light).slice(0, hills)
  const begun = [...brightest.map(({ pose }) => pose), ...mirrorsOf(subject)]
  const begin = begun.flatMap(pose => lookAt(subject, pose, glare) ?? [])
  const climb = (from: readonly Frame[], worth: (frame: Frame) => number): Frame =>
    from
      .map(frame => climbed(subject, frame, worth, glare, task))
      .reduce((a, b) => (worth(b) > worth(a) ? b : a))
  const first = (worth: (frame: Frame) => number) =>
    [...looked].sort((a, b) => worth(b) - worth(a)).slice(0, hills)
  const { light, dark, colorful } = worths
  return {
    glare: climb([...begin, ...first(light)], light),
    darkest: climb(first(dark), dark),
    best: climb(first(colorful), colorful),
  }
}

const worths = {
  light: ({ luminance }: Frame) => luminance,
  dark: ({ luminance }: Frame) => -luminance,
  colorful: ({ chroma }: Frame) => chroma,
}

/** The brightest light of a cell, all sites by their counts, and where that of the site that gives most of it lies. */
function flashIn({ faces }: Subject, view: View): { readonly pose: PanelPose; readonly light: number } {
  const found = emptyCellLight()
  let light = 0
  let most = 0
  let { pose } = view
  for (const { scene, sweep, counts } of faces) {
    const { swing, lamps } = lookingOf(scene)
    const cell = cellOf(swing, view)
    for (const [i, count] of counts.entries()) {
      sweep.over(i, cell, lamps, found)
      light += count * found.most
      if (count * found.most <= most) continue
      most = count * found.most
      pose = { tiltForwardDeg: found.first, tiltSideDeg: 0, turnDeg: found.second }
    }
  }
  return { pose, light }
}

const kept = new WeakMap<Scene, ReturnType<typeof looking>>()

/** What a face is looked over with, made once. */
function lookingOf(scene: Scene): ReturnType<typeof looking> {
  const known = kept.get(scene) ?? looking(scene)
  kept.set(scene, known)
  return known
}

function looking(scene: Scene) {
  const hand = usualGrid(scene).lamps[0]!
  return { swing: tiltAndTurn(scene, hand), lamps: narrowLamps(sceneUnder(scene, hand)) }
}

/** Where the faces show the lamps as mirrors, as the scene has the object turned, and turned by quarters from there. */
function mirrorsOf({ faces }: Subject): readonly PanelPose[] {
  return faces.flatMap(({ scene, normal }) =>
    scene.light.lamps
      .filter(({ lux }) => lux > 0)
      .flatMap(({ pose }) =>
        [0, 90, 180, 270].flatMap(
          turn => mirrorPose(normal, pose, scene.view.eyeAt, scene.view.pose.turnDeg + turn) ?? [],
        ),
      )
      .filter(
        ({ tiltForwardDeg, tiltSideDeg }) =>
          Math.max(Math.abs(tiltForwardDeg), Math.abs(tiltSideDeg)) <= reachDeg,
      ),
  )
}

/** Steps of half the length each time that no neighbour is better. */
function climbed(
  subject: Subject,
  from: Frame,
  worth: (frame: Frame) => number,
  glare: number,
  task: Task | undefined,
): Frame {
  let best = from
  for (let step = firstStepDeg; step >= lastStepDeg; ) {
    checkCancelled(task)
    const before = best
    for (const [forward, side, turn] of neighbours) {
      const { tiltForwardDeg, tiltSideDeg, turnDeg } = before.pose
      const frame = lookAt(
        subject,
        {
          tiltForwardDeg: within(tiltForwardDeg + step * forward),
          tiltSideDeg: within(tiltSideDeg + step * side),
          turnDeg: turnDeg + step * turn,
        },
        glare,
      )
      if (frame !== null && worth(frame) > worth(best) + 1e-9 * Math.abs(worth(best))) best = frame
    }
    if (best === before) step /= 2
  }
  const { turnDeg } = best.pose
  return { ...best, pose: { ...best.pose, turnDeg: turnDeg - 360 * Math.round(turnDeg / 360) } }
}

/** Both tilts in eight directions, and the turn. */
const neighbours = [
  ...[-1, 0, 1].flatMap(a => [-1, 0, 1].map(b => [a, b, 0] as const)).filter(([a, b]) => a !== 0 || b !== 0),
  [0, 0, -1] as const,
  [0, 0, 1] as const,
]

const within = (deg: number): number => Math.min(reachDeg, Math.max(-reachDeg, deg))
