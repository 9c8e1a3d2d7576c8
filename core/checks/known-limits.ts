import { accountingLimits } from './accounting/limits.ts'
import { codeLimits } from './codes/limits.ts'
import type { CheckName } from './finding.ts'
import { glareLimits } from './glare/limits.ts'
import { legibilityLimits } from './legibility/limits.ts'
import type { Limit } from './limits.ts'
import { preflightLimits } from './preflight/limits.ts'
import { registerLimits } from './register/limits.ts'
import { whiteLimits } from './white/limits.ts'

type Limits = Readonly<Record<string, Limit>>

/** The limits of each check, by their keys. Apart from the checks, so that a page may list limits without their code. */
export const limitsByCheck: Readonly<Record<CheckName, Limits>> = {
  legibility: legibilityLimits,
  codes: codeLimits,
  register: registerLimits,
  white: whiteLimits,
  glare: glareLimits,
  accounting: accountingLimits,
  preflight: preflightLimits,
}

/** Every limit of every check, by its key. */
export const knownLimits: Limits = Object.assign({}, ...Object.values(limitsByCheck))
