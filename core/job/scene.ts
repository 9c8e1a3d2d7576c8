import { isPrint } from '../reference/overlay.ts'
import { type Lamp, type LampPose, type PanelPose, type Scene, withHandLamp } from '../reference/scene.ts'
import type { Job } from './job.ts'
import type { Standpoint } from './path.ts'
import { solidOf } from './solid.ts'

/** What a job shows with the lamp in the hand and the panel somewhere else. */
export function sceneWith(job: Job, lamp: LampPose, pose: PanelPose): Scene {
  const { board, whiteInk, print, light, view } = job
  // Leaves are proofed on the open, uncut sheet.
  const solid = isPrint(view.overlay) ? solidOf(job) : undefined
  return {
    board,
    whiteInk,
    print,
    light: withHandLamp(light, lamp),
    view: { ...view, pose },
    ...(solid === undefined ? {} : { solid }),
  }
}

/** The same with everything that a lamp path moves. A lamp that the job does not have is passed over. */
export function sceneAt(job: Job, { lamp, pose, others, eye }: Standpoint): Scene {
  const scene = sceneWith(job, lamp, pose)
  const { light, view } = scene
  const [hand, ...further] = light.lamps
  const lamps: readonly [Lamp, ...Lamp[]] = [
    hand,
    ...further.map((one, i) => ({ ...one, pose: others[i] ?? one.pose })),
  ]
  return {
    ...scene,
    light: others.some(one => one !== null) ? { ...light, lamps } : light,
    view:
      eye === null
        ? view
        : {
            ...view,
            eyeDistanceMm: eye.distanceMm,
            eyeAt: { sideDeg: eye.sideDeg, riseDeg: eye.riseDeg },
          },
  }
}
