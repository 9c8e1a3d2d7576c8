import { BadInput } from '../base/finding.ts'

/**
 * Where a limit comes from. `standard`: a published standard or law says it; `trade`: a printer's or association's
 * published specification; `memory`: recalled, to be confirmed; `proposed`: a starting value of this program.
 */
export type LimitStatus = 'standard' | 'trade' | 'memory' | 'proposed'

/** A number that a check judges by, and that a plant or a client may have a view of its own about. */
export interface Limit {
  readonly name: string
  /** One line of what it is for. */
  readonly says: string
  /** Empty for a plain number. */
  readonly unit: string
  readonly usual: number
  /** Least and greatest that is taken. */
  readonly range: readonly [least: number, most: number]
  readonly status: LimitStatus
  readonly source: string
}

/** A limit as it was applied: the usual value, or the job's own with the note that says whose it is. */
export interface AppliedLimit {
  readonly key: string
  readonly value: number
  readonly unit: string
  readonly status: LimitStatus | 'own'
  readonly source: string
}

/** What a job sets otherwise. */
export interface OwnLimit {
  readonly value: number
  /** Who says so, and where. */
  readonly note: string
}
export type OwnLimits = Readonly<Record<string, OwnLimit>>

/** The limit that holds: the job's own value where it has one. */
export function applied(key: string, limit: Limit, own: OwnLimits): AppliedLimit {
  const { unit, usual, status, source } = limit
  const set = own[key]
  return set === undefined
    ? { key, value: usual, unit, status, source }
    : { key, value: set.value, unit, status: 'own', source: set.note }
}

/** Throws BadInput for a value that a limit cannot have. */
export function requireLimit(key: string, { name, unit, range: [least, most] }: Limit, value: number): void {
  if (value >= least && value <= most) return
  const said = unit === '' ? '' : ` ${unit}`
  throw new BadInput(
    'limit-out-of-range',
    'limits',
    `${key} (${name})`,
    `expected ${least} to ${most}${said}, got ${value}`,
    'Set it within that range, or leave it out for the usual value.',
  )
}
