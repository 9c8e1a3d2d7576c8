import type { CheckInput } from './input.ts'
import { type AppliedLimit, applied, type Limit } from './limits.ts'

/** The limits of one check by their keys, as the job has them. */
export type LimitSet<K extends string> = Readonly<Record<K, Limit>>

/** Reads one limit of a set by its key. */
export function limitsOf<K extends string>(
  set: LimitSet<K>,
  { limits }: Pick<CheckInput, 'limits'>,
): (key: K) => AppliedLimit {
  return key => applied(key, set[key], limits)
}
