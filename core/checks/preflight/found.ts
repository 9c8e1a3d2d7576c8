import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { limitsOf } from '../limit-set.ts'
import type { AppliedLimit } from '../limits.ts'
import { type PreflightLimit, preflightLimits } from './limits.ts'

type Told = Pick<CheckFinding, 'severity' | 'code' | 'where' | 'message' | 'fix'> &
  Partial<Pick<CheckFinding, 'box' | 'measured' | 'limit' | 'remedy'>> & {
    /** Tells findings of one code apart; left out where there is one at most. */
    readonly of?: string
  }

/** A finding of the preflight; about the whole job unless it says where. */
export function found({ of, ...told }: Told): CheckFinding {
  return {
    check: 'preflight',
    key: of === undefined ? `preflight/${told.code}` : `preflight/${told.code} ${of}`,
    box: null,
    held: null,
    measured: null,
    limit: null,
    remedy: null,
    ...told,
  }
}

/** The limits of the preflight as the job has them. */
export const limitOf = (input: Pick<CheckInput, 'limits'>): ((key: PreflightLimit) => AppliedLimit) =>
  limitsOf(preflightLimits, input)

/** A number as a finding carries it: to the given decimals. */
export const measured = (value: number, unit: string, decimals = 2) => ({
  value: Number(value.toFixed(decimals)),
  unit,
})
