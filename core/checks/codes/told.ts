import type { Tables } from '../../optics/tables.ts'
import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import type { CodeLimitName } from './limits.ts'
import type { InkTile } from './tile.ts'

/** What is said of a code, before it is known which one it is. */
export type Told = Pick<CheckFinding, 'severity' | 'code' | 'message' | 'fix'> &
  Partial<Pick<CheckFinding, 'measured' | 'limit'>>

export type LimitOf = (name: CodeLimitName) => AppliedLimit

/** What a code is judged by, beside its drawing. */
export interface CodeGround {
  readonly input: CheckInput
  /** Of the reader's light. */
  readonly tables: Tables
  /** The art around the code. */
  readonly tile: InkTile
  readonly limits: LimitOf
}

/** What every finding about a code ends with. */
export const estimate = 'This is an estimate and does not replace verification with a calibrated verifier.'
