import { canonicalJson } from '../base/canonical-json.ts'
import { sha256Hex } from '../base/sha256.ts'
import type { SignedLayer } from './layers.ts'
import type { ProofVersion } from './version.ts'

export const signoffFormat = 'rakelight-signoff'
export const signoffVersion = 1

/** Decisions as the open job-ticket schema XJDF names them (ApprovalState), and what a reader sees. */
export const decisionNames = ['Approved', 'ApprovedWithComment', 'Rejected'] as const
export type Decision = (typeof decisionNames)[number]
export const decisionWords: Readonly<Record<Decision, string>> = {
  Approved: 'OK',
  ApprovedWithComment: 'OK with corrections',
  Rejected: 'New proof needed',
}

/** Roles as XJDF names them (ApprovalRole), and what a reader sees. */
export const signerRoles = ['Obligated', 'Approvinator', 'Informative'] as const
export type SignerRole = (typeof signerRoles)[number]
export const roleTerms: Readonly<Record<SignerRole, string>> = {
  Obligated: 'must approve',
  Approvinator: 'final say',
  Informative: 'for information',
}

/**
 * What was decided about one proof, by whom. Entries are only ever added; each carries the hash of the one before it
 * and of itself, so that a byte that was changed shows.
 */
export interface SignoffRecord {
  readonly format: typeof signoffFormat
  readonly version: typeof signoffVersion
  /** What was looked at, as it was then: its job may be of an older version of the job's format. */
  readonly of: SignedVersion
  /** The proof that was looked at; null where it was the job itself. */
  readonly proof: SignedFile | null
  /** Parts of the art, so that a later edit is told by what it touched; none where they were not read. */
  readonly layers: readonly SignedLayer[]
  /** The record that this one takes the place of; null for the first. */
  readonly supersedes: { readonly name: string; readonly seal: string } | null
  /** What the names in it are worth. */
  readonly statement: string
  readonly entries: readonly SignoffEntry[]
  /** SHA-256 of the canonical JSON of all the rest. */
  readonly seal: string
}

export interface SignedVersion extends Omit<ProofVersion, 'job'> {
  readonly job: unknown
}

export interface SignedFile {
  readonly name: string
  readonly sha256: string
  readonly bytes: number
}

/** What every record says of its signatures and of the picture. */
export const signoffStatement =
  'Names, decisions and times in this record are statements of those who entered them. They are no proof of identity. ' +
  'The hashes show whether the record and what it is about were changed by accident or in passing; whoever can write a whole new ' +
  'record can make its hashes fit. What was looked at is a computed preview: metallic and diffractive effects, gloss, the opacity of ' +
  'white and whether codes can be read depend on material, light and viewer, and no screen binds anyone to them.'

export type SignoffEntry = EntryContent & {
  /** SHA-256 of the entry before it; of the first, of the record's head. */
  readonly before: string
  /** SHA-256 of the canonical JSON of the rest of the entry. */
  readonly sha256: string
}

export type EntryContent =
  /** Who is asked. The newest list holds. */
  | {
      readonly kind: 'people'
      /** ISO 8601, UTC. */
      readonly at: string
      /** Who says so. */
      readonly by: string
      readonly people: readonly Signer[]
    }
  | SignedDecision

export interface Signer {
  readonly name: string
  readonly role: SignerRole
}

export interface SignedDecision {
  readonly kind: 'decision'
  readonly at: string
  readonly by: string
  readonly role: SignerRole
  readonly decision: Decision
  /** As in "subject to the lab's sample". */
  readonly conditions: readonly string[]
  readonly reason: string
  /** Null where nobody said. */
  readonly viewing: Viewing | null
  readonly display: DisplayState | null
  /** The notes that were there: how many of them open, and the hash of them all; null where there was no file of them. */
  readonly notes: { readonly open: number; readonly settled: number; readonly sha256: string } | null
}

/** Where it was looked at. P1 and P2 are the viewing conditions of ISO 3664: 2000 lx and 500 lx of D50. */
export interface Viewing {
  readonly condition: (typeof viewingConditions)[number]
  /** On the place of the copy; null where nobody measured. */
  readonly lux: number | null
  /** As in "LED panels, 4000 K". */
  readonly light: string
  /** As in "agency, meeting room, blinds closed". */
  readonly room: string
}
export const viewingConditions = ['P1', 'P2', 'room'] as const
export const viewingWords: Readonly<Record<Viewing['condition'], string>> = {
  P1: 'booth, ISO 3664 P1 (2000 lx)',
  P2: 'booth, ISO 3664 P2 (500 lx)',
  room: 'room light',
}

/** What it was looked at on. */
export interface DisplayState {
  readonly kind: string
  /** White that it is set to, as in "D65". */
  readonly white: string
  /** cd/m²; null where nobody measured. */
  readonly luminance: number | null
  /** Its profile's name; empty where it has none. */
  readonly profile: string
  /** Day of its last calibration, 2026-03-04; null where it was not or nobody knows. */
  readonly calibratedOn: string | null
}

export const signoffLimits = {
  entries: 500,
  people: 60,
  conditions: 40,
  /** Characters. */
  text: 4000,
  name: 120,
} as const

/** A record without entries. */
export function newRecord(
  of: ProofVersion,
  proof: SignedFile | null,
  supersedes: SignoffRecord['supersedes'] = null,
  layers: readonly SignedLayer[] = [],
): SignoffRecord {
  return sealed({
    format: signoffFormat,
    version: signoffVersion,
    of,
    proof,
    layers,
    supersedes,
    statement: signoffStatement,
    entries: [],
  })
}

/** The record with one more entry, chained to the last. Whether the entry may be made is asked of `round.ts` first. */
export function withEntry(record: SignoffRecord, content: EntryContent): SignoffRecord {
  const { seal: _, ...rest } = record
  const linked = { ...content, before: lastHash(record) }
  return sealed({ ...rest, entries: [...record.entries, { ...linked, sha256: hashOf(linked) }] })
}

/** Hash that the next entry names. */
export function lastHash(record: Omit<SignoffRecord, 'seal'>): string {
  return record.entries.at(-1)?.sha256 ?? headHash(record)
}

/** Hash of all that stands above the entries. */
export function headHash(record: Omit<SignoffRecord, 'seal'>): string {
  const { format, version, of, proof, layers, supersedes, statement } = record
  return hashOf({ format, version, of, proof, layers, supersedes, statement })
}

export const hashOf = (value: unknown): string => sha256Hex(canonicalJson(value))

const sealed = (rest: Omit<SignoffRecord, 'seal'>): SignoffRecord => ({ ...rest, seal: hashOf(rest) })

/** The text of a record's file: there is one way to write it. */
export function recordText(record: SignoffRecord): string {
  return `${JSON.stringify(record, null, 2)}\n`
}
