import { checkCancelled, partOf, type Task } from '../base/task.ts'
import type { Job } from '../job/job.ts'
import { sceneWith } from '../job/scene.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { standsClear } from '../proof/contents.ts'
import type { ProofStrip } from '../proof/manifest.ts'
import type { PictureSize } from '../reference/render.ts'
import type { PanelPose } from '../reference/scene.ts'
import { smallPicture } from '../reference/small-picture.ts'
import { writePng } from './png.ts'

/** Pictures of a proof that need no script and no graphics card, PNG. */
export interface ProofPictures {
  readonly still: Uint8Array
  readonly strip: readonly Uint8Array[]
  readonly held: ProofStrip
}

export interface PicturePlan {
  /** Pixels, 4 : 3. */
  readonly stillWidth: number
  readonly stripWidth: number
  /** Tilts of the strip beside the job's own pose, degrees. */
  readonly tilts: readonly number[]
}

export const usualPictures: PicturePlan = {
  stillWidth: 800,
  stripWidth: 240,
  tilts: [-24, -16, -8, 0, 8, 16, 24],
}

/** Rays a pixel, along each side. */
const grid = 2

/**
 * The job as it was left, and tilted to and fro, by the exact picture. A pose that a lamp would reach into is left out.
 * Throws Cancelled when told to stop.
 * @param levels, sets as `smallPicture` takes them
 */
export function proofPictures(
  job: Job,
  levels: readonly MaterialMap[],
  sets: readonly Tables[],
  plan: PicturePlan,
  task?: Task,
): ProofPictures {
  const lamp = job.light.lamps[0].pose
  const picture = (pose: PanelPose, size: PictureSize, part: Task): Uint8Array => {
    checkCancelled(part)
    const { width, height, rgba } = smallPicture(sceneWith(job, lamp, pose), levels, sets, size, part)
    const data = new Uint8Array(3 * width * height)
    for (let i = 0; i < width * height; i++) for (let c = 0; c < 3; c++) data[3 * i + c] = rgba[4 * i + c]!
    return writePng({ width, height, channels: 3, data }, 'srgb')
  }
  const { pose } = job.view
  const poses = plan.tilts
    .map(by => ({ ...pose, tiltForwardDeg: pose.tiltForwardDeg + by }))
    .filter(held => standsClear(job, job.light, held))
  const size = sizeOf(plan.stripWidth)
  const still = picture(pose, sizeOf(plan.stillWidth), partOf(task, 0, 0.5))
  const strip = poses.map((held, i) =>
    picture(held, size, partOf(task, 0.5 + (0.5 * i) / poses.length, 0.5 + (0.5 * (i + 1)) / poses.length)),
  )
  return {
    still,
    strip,
    held: { width: size.width, height: size.height, held: poses.map(pose => ({ pose, lamp })) },
  }
}

const sizeOf = (width: number): PictureSize => ({ width, height: Math.round((width * 3) / 4), grid })
