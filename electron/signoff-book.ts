import { basename, dirname, join } from 'node:path'
import { BadInput } from '../core/base/finding.ts'
import { sha256Hex } from '../core/base/sha256.ts'
import type { SignedLayer } from '../core/proof/layers.ts'
import { besideJob } from '../core/proof/names.ts'
import { noteState } from '../core/proof/notes.ts'
import { parseNotes } from '../core/proof/read-notes.ts'
import { type Broken, brokenIn, checkEntry, parseRecord } from '../core/proof/read-signoff.ts'
import { checkNext, entriesFor, type SignWish } from '../core/proof/round.ts'
import {
  newRecord,
  recordText,
  type SignedDecision,
  type SignedFile,
  type SignoffRecord,
  withEntry,
} from '../core/proof/signoff.ts'
import { signedVersion, standing } from '../core/proof/standing.ts'
import type { ProofVersion } from '../core/proof/version.ts'
import { notesPath } from './note-book.ts'
import { changeFile, textOrNull } from './shared-file.ts'
import { writeFileSafely } from './write-file.ts'

/** Where the record of a job's sign-off lies. */
export const signoffPath = (jobPath: string): string =>
  join(dirname(jobPath), besideJob(basename(jobPath), 'signoff'))

export interface ReadRecord {
  readonly record: SignoffRecord
  /** Where it is not what its own hashes say. */
  readonly broken: readonly Broken[]
}

/** The record of a file, whether or not its hashes fit; null where there is none. Rejects with BadInput. */
export async function readRecord(path: string): Promise<ReadRecord | null> {
  const text = await textOrNull(path)
  if (text === null) return null
  const record = parseRecord(text, basename(path))
  return { record, broken: brokenIn(record, text) }
}

/** What is signed: a version with the proof that shows it. */
export interface Signing {
  readonly version: ProofVersion
  /** Null where the job itself was looked at. */
  readonly proof: SignedFile | null
  /** Parts of the art, read when a record is begun; none where it cannot be read. */
  readonly layers: () => Promise<readonly SignedLayer[]>
}

/**
 * Adds what somebody wants to a record, all or none. A new record is begun where there is none, and where the one there is speaks of
 * something else: that one is kept beside it, and the new one names it.
 * Rejects with BadInput for a record that was changed, and for an entry that may not be made.
 * @param at    ISO 8601, UTC
 * @param notes that are there now
 */
export async function addToRecord(
  path: string,
  signing: Signing,
  wish: SignWish,
  at: string,
  notes: SignedDecision['notes'],
): Promise<SignoffRecord> {
  const name = basename(path)
  return changeFile(path, async text => {
    const before = text === null ? null : parseRecord(text, name)
    if (before !== null && text !== null) {
      const [broken] = brokenIn(before, text)
      if (broken !== undefined) throw changed(name, broken)
    }
    const continued = before !== null && speaksOf(before, signing, name)
    let record = continued
      ? before
      : newRecord(
          signing.version,
          signing.proof,
          before && { name: earlierName(name, before), seal: before.seal },
          await signing.layers(),
        )
    for (const made of entriesFor(record, wish, at, notes)) {
      const entry = checkEntry(made, name)
      checkNext(record, entry, name)
      record = withEntry(record, entry)
    }
    if (before !== null && text !== null && !continued)
      await writeFileSafely(join(dirname(path), earlierName(name, before)), text)
    return { text: recordText(record), value: record }
  })
}

/** How many notes lie beside a job, for the entry of somebody who decides; null where there is no file of them. */
export async function notesSeen(jobPath: string): Promise<SignedDecision['notes']> {
  const path = notesPath(jobPath)
  const text = await textOrNull(path)
  if (text === null) return null
  const { notes } = parseNotes(text, basename(path))
  const settled = notes.filter(note => noteState(note) === 'settled').length
  return { open: notes.length - settled, settled, sha256: sha256Hex(text) }
}

/** A record speaks of a version while neither job nor files differ, and of a proof while that is the same file. */
function speaksOf(record: SignoffRecord, { version, proof }: Signing, name: string): boolean {
  if (standing(signedVersion(record, name), version).kind !== 'stands') return false
  return proof === null || (record.proof?.sha256 === proof.sha256 && record.of.id === version.id)
}

const earlierName = (name: string, { seal }: SignoffRecord): string =>
  name.replace(/(\.signoff)?\.json$/i, `.${seal.slice(0, 8)}.signoff.json`)

const changed = (name: string, { where, message }: Broken): BadInput =>
  new BadInput(
    'signoff-changed',
    name,
    where,
    `${message}: the record was changed after it was written`,
    'Restore it from a copy, or move it away and begin a new one',
  )
