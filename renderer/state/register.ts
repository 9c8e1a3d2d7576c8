import { useMemo } from 'react'
import type { Motions } from '../../core/checks/register/groups.ts'
import type { Job } from '../../core/job/job.ts'
import { motionsOf } from '../../core/job/register.ts'

/** How the job's groups of plates lie in the picture; a panel that nothing cuts has no die to slip. */
export function shownMotions({ register, carton }: Pick<Job, 'register' | 'carton'>): Motions {
  const { die, ...printed } = motionsOf(register)
  return carton === null || die === undefined ? printed : { ...printed, die }
}

/** The same ones while the job's misfits are the same. */
export function useMotions({ register, carton }: Job): Motions {
  // biome-ignore lint/correctness/useExhaustiveDependencies: of the carton only that there is one counts
  return useMemo(() => shownMotions({ register, carton }), [register, carton === null])
}
