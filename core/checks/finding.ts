import type { Finding } from '../base/finding.ts'
import type { PanelPose } from '../reference/scene.ts'
import type { AppliedLimit } from './limits.ts'

/** Which check found it; the order is the order of a list. */
export const checkNames = [
  'legibility',
  'codes',
  'register',
  'white',
  'glare',
  'accounting',
  'preflight',
] as const
export type CheckName = (typeof checkNames)[number]

/** Mm from the art's lower left corner, y up. */
export interface BoxMm {
  readonly leftMm: number
  readonly bottomMm: number
  readonly rightMm: number
  readonly topMm: number
}

/** An edit that mends what was found, by name; `core/job/remedies.ts` knows what each does. */
export interface Remedy {
  readonly name: string
  /** What the button says. */
  readonly says: string
  readonly values: Readonly<Record<string, number | string>>
}

/**
 * Something that will go wrong on foil, or may. `error` fails the check, `warning` is to be looked at by somebody,
 * `note` is to be known.
 */
export interface CheckFinding extends Finding {
  readonly check: CheckName
  /** Stays the same while the same thing is found at the same object: what a waiver names. Unique in a list. */
  readonly key: string
  /** Null where it is about the whole job. */
  readonly box: BoxMm | null
  /** How the panel is held where it is worst; null where that makes no difference. */
  readonly held: PanelPose | null
  readonly measured: { readonly value: number; readonly unit: string } | null
  readonly limit: AppliedLimit | null
  /** Null where only a person can mend it. */
  readonly remedy: Remedy | null
}
