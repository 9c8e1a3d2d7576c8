import { BadInput } from '../base/finding.ts'
import {
  type Decision,
  decisionWords,
  type EntryContent,
  roleTerms,
  type SignedDecision,
  type Signer,
  type SignoffRecord,
  signoffLimits,
} from './signoff.ts'

/** Where a round of sign-off has got to. */
export interface Round {
  readonly people: readonly Asked[]
  readonly state:
    | {
        readonly kind: 'open' /** Names of those who must approve and have not decided. */
        readonly waiting: readonly string[]
      }
    /** All who must approve have decided; whoever has the final say still may. */
    | { readonly kind: 'decided'; readonly decision: Decision }
    /** Somebody with the final say has decided, whatever the others said. */
    | { readonly kind: 'ended'; readonly decision: Decision; readonly by: string }
}

/** Somebody who was asked, and what they said last. */
export interface Asked extends Signer {
  readonly said: SignedDecision | null
}

/**
 * The round of a record. All who must approve have to decide; the worst of what they said is the outcome. One who has
 * the final say overrides them and ends the round; whoever is only informed does not count.
 * Source: role names of XJDF's ApprovalRole; that `Approvinator` overrides is our reading of it.
 */
export function roundOf({ entries }: Pick<SignoffRecord, 'entries'>): Round {
  const asked = entries.findLast(one => one.kind === 'people')
  const decisions = entries.filter(one => one.kind === 'decision')
  const people = (asked?.kind === 'people' ? asked.people : []).map(person => ({
    ...person,
    said: decisions.findLast(one => one.by === person.name) ?? null,
  }))
  const last = decisions.findLast(one => one.role === 'Approvinator')
  if (last !== undefined) return { people, state: { kind: 'ended', decision: last.decision, by: last.by } }
  const must = people.filter(one => one.role === 'Obligated')
  const waiting = must.filter(one => one.said === null).map(one => one.name)
  const said = must.flatMap(one => one.said?.decision ?? [])
  const [worst] = ['Rejected', 'ApprovedWithComment', 'Approved'].flatMap(
    name => said.find(one => one === name) ?? [],
  )
  if (waiting.length > 0 || worst === undefined) return { people, state: { kind: 'open', waiting } }
  return { people, state: { kind: 'decided', decision: worst } }
}

/**
 * Throws BadInput where an entry may not be made: the round has ended, somebody was not asked or decides in a role they
 * do not have, or a decision lacks the words that it needs.
 * @param name of the record's file, for messages
 */
export function checkNext(record: SignoffRecord, next: EntryContent, name: string): void {
  const refuse = (code: string, where: string, problem: string, fix: string) =>
    new BadInput(code, name, where, problem, fix)
  const { people, state } = roundOf(record)
  if (record.entries.length >= signoffLimits.entries)
    throw refuse('signoff-full', 'the record', `holds ${signoffLimits.entries} entries`, 'Begin a new one')
  if (state.kind === 'ended')
    throw refuse(
      'round-ended',
      'the round',
      `was ended by ${state.by}, who has the final say: ${decisionWords[state.decision]}`,
      'Make a new proof and begin a new round',
    )
  if (next.kind === 'people') {
    const gone = people.find(one => one.said !== null && !next.people.some(now => sameSigner(now, one)))
    if (gone === undefined) return
    throw refuse(
      'signer-decided',
      'the people',
      `${gone.name} (${roleTerms[gone.role]}) has decided and cannot be taken out or given another role`,
      'Leave them in the list',
    )
  }
  const asked = people.find(one => one.name === next.by)
  if (asked === undefined)
    throw refuse('not-asked', 'the people', `${next.by} was not asked`, 'Ask them first, or check the name')
  if (asked.role !== next.role)
    throw refuse(
      'other-role',
      'the people',
      `${next.by} was asked as "${roleTerms[asked.role]}", not as "${roleTerms[next.role]}"`,
      'Decide in the role that was asked for',
    )
  if (next.decision === 'ApprovedWithComment' && next.conditions.length === 0 && next.reason === '')
    throw refuse(
      'no-corrections',
      'the decision',
      `"${decisionWords.ApprovedWithComment}" does not say which`,
      'Add a condition or a reason',
    )
  if (next.decision === 'Rejected' && next.reason === '')
    throw refuse('no-reason', 'the decision', `"${decisionWords.Rejected}" does not say why`, 'Add a reason')
}

/** What somebody wants to add to a record. */
export interface SignWish {
  /** Who speaks. */
  readonly by: string
  /** Who is asked beside those who were. */
  readonly ask: readonly Signer[]
  readonly decision: Omit<SignedDecision, 'kind' | 'at' | 'by' | 'notes'> | null
}

/**
 * The entries of a wish. Whoever decides without having been asked is asked with that.
 * @param at    ISO 8601, UTC
 * @param notes that are there now
 */
export function entriesFor(
  record: Pick<SignoffRecord, 'entries'>,
  { by, ask, decision }: SignWish,
  at: string,
  notes: SignedDecision['notes'],
): readonly EntryContent[] {
  const before = roundOf(record).people.map(({ name, role }): Signer => ({ name, role }))
  const joins = decision !== null && ![...before, ...ask].some(one => one.name === by)
  const more = joins ? [...ask, { name: by, role: decision.role }] : ask
  const people = [...before.filter(one => !more.some(other => other.name === one.name)), ...more]
  return [
    ...(more.length === 0 ? [] : [{ kind: 'people' as const, at, by, people }]),
    ...(decision === null ? [] : [{ kind: 'decision' as const, at, by, ...decision, notes }]),
  ]
}

const sameSigner = (a: Signer, b: Signer): boolean => a.name === b.name && a.role === b.role
