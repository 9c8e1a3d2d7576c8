import { checkCancelled, type Task } from '../../base/task.ts'
import type { PanelPose, Scene } from '../../reference/scene.ts'
import { cellOf, tiltAndTurn } from '../sweep/cell.ts'
import { narrowLamps } from '../sweep/narrow.ts'
import { emptyCellLight } from '../sweep/site-sweep.ts'
import { sceneUnder, usualGrid, type View } from '../sweep/view-grid.ts'
import { reachDeg } from './climb.ts'
import { mirrorPose } from './mirror-pose.ts'
import type { Subject, SubjectFace } from './subject.ts'

/**
 * Where the brightest flashes of some places lie, the brightest first: each cell is looked over for flashes that none of
 * its views meets. @param views those whose cells are looked over; @param most of the poses that are returned
 */
export function flashesOf(
  { scene, name }: Subject,
  faces: readonly SubjectFace[],
  views: readonly View[],
  most: number,
  task?: Task,
): readonly PanelPose[] {
  const ways = faces.map(face => ({ ...face, ...wayOf(face.scene) }))
  const found = emptyCellLight()
  const flashes = views.map((view, v) => {
    checkCancelled(task)
    task?.progress?.(v / views.length, `${name}, flashes`)
    let light = 0
    let brightest = 0
    let { pose } = view
    for (const { sweep, counts, swing, lamps } of ways) {
      const cell = cellOf(swing, view)
      for (const [i, count] of counts.entries()) {
        sweep.over(i, cell, lamps, found)
        light += count * found.most
        if (count * found.most <= brightest) continue
        brightest = count * found.most
        pose = { ...scene.view.pose, tiltForwardDeg: found.first, tiltSideDeg: 0, turnDeg: found.second }
      }
    }
    return { pose, light }
  })
  return flashes
    .sort((a, b) => b.light - a.light)
    .slice(0, most)
    .map(({ pose }) => pose)
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
