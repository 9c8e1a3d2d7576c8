import type { RoleName } from '../roles/role.ts'
import { type JobChange, versionChanges } from './changes.ts'
import { type Cost, sumOf } from './cost.ts'
import { checkVersion } from './read-version.ts'
import type { SignoffRecord } from './signoff.ts'
import type { ProofVersion } from './version.ts'

/** Whether what was signed is still what there is. */
export type SignoffStanding =
  | { readonly kind: 'stands' }
  /** Something was edited since: the record no longer speaks of what there is now. */
  | {
      readonly kind: 'superseded'
      readonly changes: readonly JobChange[]
      /** Of all changes together, had the job been released. */
      readonly cost: Cost
    }

/** The version that a record is about, its job brought up to date. Throws BadInput where it is not what its hashes say. */
export const signedVersion = (record: SignoffRecord, name: string): ProofVersion =>
  checkVersion(record.of, name)

/**
 * Any edit supersedes, whatever it costs.
 * @param signed {@link signedVersion} of the record
 * @param now    the job and its files as they are
 * @param layers as {@link versionChanges} takes it
 */
export function standing(
  signed: Pick<ProofVersion, 'job' | 'sources'>,
  now: Pick<ProofVersion, 'job' | 'sources'>,
  layers: readonly RoleName[] | null = null,
): SignoffStanding {
  const changes = versionChanges(signed, now, layers)
  if (changes.length === 0) return { kind: 'stands' }
  return { kind: 'superseded', changes, cost: sumOf(changes.map(one => one.cost)) }
}
