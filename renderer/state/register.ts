import { useMemo } from 'react'
import type { Motions } from '../../core/checks/register/groups.ts'
import type { Job } from '../../core/job/job.ts'
import { shownMotions } from '../../core/job/register.ts'

/** `shownMotions`, the same ones while the job's misfits are the same. */
export function useMotions({ register, carton }: Job): Motions {
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the carton only that there is one counts
  return useMemo(() => shownMotions({ register, carton }), [register, carton === null])
}
