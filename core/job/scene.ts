import { type LampPose, type PanelPose, type Scene, withHandLamp } from '../reference/scene.ts'
import type { Job } from './job.ts'

/** What a job shows with the lamp in the hand and the panel somewhere else, as on a lamp path. */
export function sceneWith(job: Job, lamp: LampPose, pose: PanelPose): Scene {
  const { board, whiteInk, print, light, view } = job
  return { board, whiteInk, print, light: withHandLamp(light, lamp), view: { ...view, pose } }
}
