import type { CheckList } from '../../../core/checks/run.ts'
import type { Job } from '../../../core/job/job.ts'
import type { Workshop } from '../../scene/workshop.ts'
import type { Desk } from '../../state/open.ts'
import type { State } from '../../state/state.ts'

/** What a section of the sheet of checks is given for its pictures. */
export interface PictureProps {
  readonly desk: Desk
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
  /** With the job's waivers; null before the first look. */
  readonly list: CheckList | null
  /** The list is of an earlier state of the job. */
  readonly old: boolean
}
