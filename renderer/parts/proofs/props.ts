import type { Job } from '../../../core/job/job.ts'
import type { Workshop } from '../../scene/workshop.ts'
import type { Desk } from '../../state/open.ts'
import type { Sending } from '../../state/proofs.ts'
import type { State } from '../../state/state.ts'

/** The movie maker, which shares the stage with the table and is fetched once it is asked for. */
export type LoadMovie = () => Promise<typeof import('../../export/movie.ts')>

/** What each part of the sheet of proofs is given. */
export interface SectionProps {
  readonly desk: Desk
  readonly state: State
  readonly job: Job
  readonly workshop: Workshop
  readonly loadMovie: LoadMovie
}

/** What each thing that can be sent out is given. */
export interface SendProps extends SectionProps {
  /** Of its card. */
  readonly card: {
    readonly open: boolean
    readonly sending: Sending
    readonly onOpen: (open: boolean) => void
    readonly onCancel: () => void
  }
}
