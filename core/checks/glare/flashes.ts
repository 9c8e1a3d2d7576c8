import { checkCancelled, type Task } from '../../base/task.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { type Cell, cellOf, tiltAndTurn } from '../sweep/cell.ts'
import { narrowLamps } from '../sweep/narrow.ts'
import { emptyCellLight } from '../sweep/site-sweep.ts'
import { sceneUnder, usualGrid, type View } from '../sweep/view-grid.ts'
import { reachDeg } from './climb.ts'
import { mirrorPose } from './mirror-pose.ts'
import type { Subject, SubjectFace } from './subject.ts'

/** Looks over the cells of views for flashes that none of the views meets. What it works out of a cell serves all subjects. */
export class FlashSeeker {
  readonly #views: readonly View[]
  readonly #ways = new Map<number, ReturnType<typeof wayOf>>()

  constructor(views: readonly View[]) {
    this.#views = views
  }

  /** For each subject and view the brightest flash of its faces' places in the view's cell, the brightest first. */
  of(
    subjects: readonly { readonly scene: Scene; readonly faces: readonly SubjectFace[] }[],
    task?: Task,
  ): readonly (readonly Flash[])[] {
    const flashes = subjects.map((): Flash[] => [])
    for (const [v, view] of this.#views.entries()) {
      checkCancelled(task)
      task?.progress?.(v / this.#views.length, 'flashes')
      const cells = new Map<number, Cell>()
      for (const [s, { scene, faces }] of subjects.entries()) {
        const found = faces.map(face => ({ counts: face.counts, brightest: this.#brightest(face, v, cells) }))
        flashes[s]!.push(flashOf(scene, view, found))
      }
    }
    return flashes.map(all => all.sort((a, b) => b.light - a.light))
  }

  /** Of each place the brightest flash of a view's cell: its Y, tilt and turn. @param cells of the leaves, made as they are needed */
  #brightest(face: SubjectFace, v: number, cells: Map<number, Cell>): Float32Array {
    return face.notes.of(`flash ${v} of ${this.#views.length}`, 3, (i, out, at) => {
      const way = this.#ways.get(face.index) ?? wayOf(face.scene)
      this.#ways.set(face.index, way)
      const cell = cells.get(face.index) ?? cellOf(way.swing, this.#views[v]!)
      cells.set(face.index, cell)
      face.sweep.over(i, cell, way.lamps, one)
      out.set([one.most, one.first, one.second], at)
    })
  }
}

export interface Flash {
  /** The view's own where nothing flashes in its cell. */
  readonly pose: PanelPose
  /** Pixels times the brightest Y of each. */
  readonly light: number
}

const one = emptyCellLight()

/** Y of the least flash, in paper white: a view of a cell with less shows what there is to see. */
const leastFlash = 0.2

function flashOf(
  scene: Scene,
  view: View,
  faces: readonly { readonly counts: Float64Array; readonly brightest: Float32Array }[],
): Flash {
  let light = 0
  let most = leastFlash
  let { pose } = view
  for (const { counts, brightest } of faces)
    for (const [i, count] of counts.entries()) {
      light += count * brightest[3 * i]!
      if (brightest[3 * i]! <= most) continue
      most = brightest[3 * i]!
      const [tiltForwardDeg, turnDeg] = [brightest[3 * i + 1]!, brightest[3 * i + 2]!]
      pose = { ...scene.view.pose, tiltForwardDeg, tiltSideDeg: 0, turnDeg }
    }
  return { pose, light }
}

/** Without the room, whose light is no flash and takes long to sum. */
function wayOf({ light, ...rest }: Scene) {
  const scene = { ...rest, light: { ...light, roomLevel: 0 } }
  const hand = usualGrid(scene).lamps[0]!
  return { swing: tiltAndTurn(scene, hand), lamps: narrowLamps(sceneUnder(scene, hand)) }
}

/** Where faces show the lamps as mirrors, as the scene has the object turned, and turned by quarters from there. */
export function mirrorsOf(
  { scene }: Pick<Subject, 'scene'>,
  faces: readonly Pick<SubjectFace, 'normal'>[],
): readonly PanelPose[] {
  const burning = scene.light.lamps.filter(({ lux }) => lux > 0)
  return faces.flatMap(({ normal }) =>
    burning
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
