import { heldWords } from '../../checks/glare/held-words.ts'
import type { Job } from '../../job/job.ts'
import { applyRig, type Rig, rigs } from '../../job/rigs.ts'
import { sceneWith } from '../../job/scene.ts'
import type { Zoom } from '../../reference/camera.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { flatSolid } from '../../reference/solid.ts'
import { panelLeaves, straightOn } from '../../reference/straight-on.ts'
import { roomToTurn } from '../../reference/turned-view.ts'
import { angleAt } from './contact.ts'
import type { StillKind, StillsWish } from './wish.ts'

/** One picture of a job. */
export interface Still {
  /** Part of a file's name: lower-case words with dashes. */
  readonly name: string
  readonly title: string
  /** How the carton is held. */
  readonly held: string
  readonly scene: Scene
  readonly zoom?: Zoom
}

/** How the carton is held in the frames that the glare check found; null where it is never in sight. */
export type FoundPoses = Readonly<Record<'best' | 'darkest' | 'glare', PanelPose>> | null

/** Lamp and eye of the job, the carton held so; leaves that lie apart are shown printed on one another, as the check sees them. */
function heldScene(job: Job, pose: PanelPose): Scene {
  const { overlay: _, ...view } = job.view
  return shownScene({ ...job, view }, pose)
}

const shownScene = (job: Job, pose: PanelPose = job.view.pose): Scene =>
  sceneWith(job, job.light.lamps[0].pose, pose)

/** Every still of a wish but the contact sheet, in the order of its kinds. @param aspect width / height of a still */
export function stillsOf(
  job: Job,
  what: readonly StillKind[],
  found: FoundPoses,
  aspect: number,
): readonly Still[] {
  return what.flatMap(kind => ofKind(job, kind, found, aspect))
}

function ofKind(job: Job, kind: StillKind, found: FoundPoses, aspect: number): readonly Still[] {
  switch (kind) {
    case 'contact':
      return []
    case 'shown':
      return [still('as-shown', 'As the job has it', shownScene(job))]
    case 'best':
    case 'darkest':
    case 'glare':
      return found === null ? [] : [turnedStill(job, kind, found[kind], aspect)]
    case 'panels':
      return panelStills(job, aspect)
    case 'lights':
      return rigs.map(rig => lightStill(job, rig))
  }
}

function turnedStill(job: Job, kind: keyof typeof foundTitles, pose: PanelPose, aspect: number): Still {
  const scene = heldScene(job, pose)
  const zoom = roomToTurn(scene.solid ?? job.panel, [pose.turnDeg], aspect)
  return { ...still(kind, foundTitles[kind], scene), zoom }
}

export const foundTitles = {
  best: 'Most colourful without glare',
  darkest: 'Darkest',
  glare: 'Worst glare',
} as const

/** The job under a rig, held as it is. */
export function lightStill(job: Job, rig: Rig): Still {
  return still(`light-${dashed(rig.name)}`, rig.name, shownScene(applyRig(rig)(job)))
}

function panelStills(job: Job, aspect: number): readonly Still[] {
  const scene = heldScene(job, job.view.pose)
  const solid = scene.solid ?? flatSolid(job.panel)
  const taken = new Map<string, number>()
  return panelLeaves(solid).map(leaf => {
    const { pose, zoom } = straightOn(solid, leaf, scene.view, aspect)
    const count = (taken.get(leaf.name) ?? 0) + 1
    taken.set(leaf.name, count)
    const name = count === 1 ? leaf.name : `${leaf.name} ${count}`
    return { ...still(`panel-${dashed(name)}`, `Panel ${name}, straight on`, heldScene(job, pose)), zoom }
  })
}

function still(name: string, title: string, scene: Scene): Still {
  return { name, title, held: heldWords(scene.view.pose), scene }
}

/** Pictures of a contact sheet, row by row: rows of tilt, columns of turn. All show the same part of the view. */
export function contactCells(
  job: Job,
  { tilt, turn, cellWidth, cellHeight }: StillsWish['contact'],
): readonly { readonly scene: Scene; readonly zoom: Zoom }[] {
  const turns = Array.from({ length: turn.count }, (_, i) => angleAt(turn, i))
  const zoom = roomToTurn(shownScene(job).solid ?? job.panel, turns, cellWidth / cellHeight)
  return Array.from({ length: tilt.count * turn.count }, (_, i) => ({
    scene: shownScene(job, {
      ...job.view.pose,
      tiltForwardDeg: angleAt(tilt, Math.floor(i / turn.count)),
      turnDeg: turns[i % turn.count]!,
    }),
    zoom,
  }))
}

/** Letters and digits in lower case, all else dashes: safe in any file name, the same on every machine. */
function dashed(text: string): string {
  const plain = text
    .normalize('NFKD')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-|-$/g, '')
  return plain === '' ? 'unnamed' : plain.slice(0, 60)
}
