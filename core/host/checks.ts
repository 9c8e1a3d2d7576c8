import * as v from 'valibot'
import type { HolographyAccount } from '../checks/accounting/account.ts'
import type { FlashMap } from '../checks/glare/flash-map.ts'
import type { LegibilityResult } from '../checks/legibility/result.ts'
import type { SlipPicture } from '../checks/register/slip-picture.ts'
import type { CheckList } from '../checks/run.ts'
import type { HeatMap } from '../checks/sweep/heat-map.ts'
import type { WhitePicture } from '../checks/white/picture.ts'
import { anyJob, fileId, pictureSide, taskId } from './fields.ts'
import type { Picture } from './picture.ts'

const degrees = v.pipe(v.number(), v.minValue(-720), v.maxValue(720))

/** Checks and their pictures. */
export const checkRequests = {
  /** Runs every check over the job; findings come worst first, with the job's waivers. */
  runChecks: v.object({ fileId, taskId, job: anyJob }),
  /** What shows when groups of plates slip: shared edges, and the worst slips within tolerance. */
  slipPicture: v.object({ fileId, taskId, job: anyJob }),
  /** Where the holography that is paid for goes; null where the job has no tables to judge by. */
  accountPicture: v.object({ fileId, taskId, job: anyJob }),
  /** Which panel lights up at which lamp and eye place. */
  flashPicture: v.object({ fileId, taskId, job: anyJob }),
  /** How bright every place of the art gets over all views. */
  heatPicture: v.object({ fileId, taskId, job: anyJob }),
  /** How every piece of type reads in every view. */
  typePicture: v.object({ fileId, taskId, job: anyJob }),
  /** White before and after the job's recipe made one of the art. Longest side at most `size`. */
  whitePicture: v.object({
    fileId,
    taskId,
    job: anyJob,
    size: pictureSide(2048),
  }),
  /** The exact picture of the job held so, lamp and eye where it has them, all printed on one another. */
  framePicture: v.object({
    fileId,
    taskId,
    job: anyJob,
    held: v.object({ tiltForwardDeg: degrees, tiltSideDeg: degrees, turnDeg: degrees }),
    zoom: v.object({
      scale: v.pipe(v.number(), v.minValue(0.1), v.maxValue(100)),
      x: v.pipe(v.number(), v.finite()),
      y: v.pipe(v.number(), v.finite()),
    }),
    width: pictureSide(512),
    height: pictureSide(512),
  }),
} as const

/** What each of them answers. */
export interface CheckAnswers {
  runChecks: CheckList
  slipPicture: SlipPicture
  accountPicture: HolographyAccount | null
  flashPicture: FlashMap
  heatPicture: HeatMap
  typePicture: LegibilityResult
  whitePicture: WhitePicture
  framePicture: Picture
}
