import { BadInput } from '../base/finding.ts'
import { sceneOnLeaf } from '../reference/on-leaf.ts'
import type { Scene } from '../reference/scene.ts'
import type { Job } from './job.ts'
import { sceneWith } from './scene.ts'

/**
 * What a job shows at one spot of its art, on the panel of the carton that has it.
 * Throws BadInput where no panel has it.
 * @param xMm, yMm from the art's lower left corner
 */
export function sceneAtSpot(job: Job, xMm: number, yMm: number): Scene {
  const scene = sceneWith(job, job.light.lamps[0].pose, job.view.pose)
  const here = sceneOnLeaf(scene, job.panel, xMm, yMm)
  if (here !== null) return here
  throw new BadInput(
    'spot-off-carton',
    'carton',
    `x ${xMm} mm, y ${yMm} mm`,
    'no panel of the carton shows this place of the art',
    'Choose another place, or see where the art lies on the blank.',
  )
}
