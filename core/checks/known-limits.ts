import { accountingLimits } from './accounting/limits.ts'
import type { Limit } from './limits.ts'
import { preflightLimits } from './preflight/limits.ts'
import { registerLimits } from './register/limits.ts'
import { whiteLimits } from './white/limits.ts'

/** Every limit of every check, by its key. Apart from the checks, so that a page may list limits without their code. */
export const knownLimits: Readonly<Record<string, Limit>> = {
  ...registerLimits,
  ...whiteLimits,
  ...accountingLimits,
  ...preflightLimits,
}
