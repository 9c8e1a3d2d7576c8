import fc from 'fast-check'
import { expect, test } from 'vitest'
import { BadInput } from '../../../core/base/finding.ts'
import type { SignedLayer } from '../../../core/proof/layers.ts'
import { brokenIn, checkEntry, parseRecord } from '../../../core/proof/read-signoff.ts'
import { checkNext, roundOf } from '../../../core/proof/round.ts'
import {
  type Decision,
  decisionNames,
  decisionWords,
  type EntryContent,
  hashOf,
  newRecord,
  recordText,
  roleTerms,
  type SignedDecision,
  type SignerRole,
  type SignoffRecord,
  signerRoles,
  withEntry,
} from '../../../core/proof/signoff.ts'
import { versionOf } from '../../../core/proof/version.ts'
import { plainJob } from '../../support/job.ts'

const of = versionOf({
  jobName: 'comet.job.json',
  madeAt: '2026-03-04T09:30:00Z',
  program: '0.1.0',
  data: '3d0d7ece6ae9',
  sources: [{ kind: 'art', name: 'comet.psd', sha256: 'ab'.repeat(32), bytes: 4096 }],
  job: plainJob,
})
const asked: EntryContent = {
  kind: 'people',
  at: '2026-03-04T09:31:00Z',
  by: 'Studio',
  people: [
    { name: 'Client', role: 'Obligated' },
    { name: 'Printer', role: 'Obligated' },
    { name: 'Art director', role: 'Approvinator' },
    { name: 'Sales', role: 'Informative' },
  ],
}
const said = (by: string, role: SignerRole, decision: Decision): SignedDecision => ({
  kind: 'decision',
  at: '2026-03-04T10:00:00Z',
  by,
  role,
  decision,
  conditions: decision === 'ApprovedWithComment' ? ['subject to the lab’s sample'] : [],
  reason: decision === 'Rejected' ? 'The rings are not round' : '',
  viewing: { condition: 'P2', lux: 510, light: 'D50 booth', room: 'studio' },
  display: {
    kind: 'laptop',
    white: 'D65',
    luminance: 120,
    profile: 'own',
    calibratedOn: '2026-03-01',
  },
  notes: null,
})
const layers: readonly SignedLayer[] = [
  { kind: 'layer', id: '3', name: 'Comet', role: 'holography', sha256: '01'.repeat(32) },
]
const proof = { name: 'comet.proof.html', sha256: 'cd'.repeat(32), bytes: 900_000 }
const record = [
  asked,
  said('Client', 'Obligated', 'Approved'),
  said('Sales', 'Informative', 'Rejected'),
].reduce<SignoffRecord>(
  withEntry,
  newRecord(of, proof, { name: 'old.signoff.json', seal: 'ef'.repeat(32) }, layers),
)

// The published schema of XJDF: ApprovalState and ApprovalRole.
test('decisions and roles are those of the open job ticket, and no others', () => {
  expect(decisionNames).toEqual(['Approved', 'ApprovedWithComment', 'Rejected'])
  expect([...signerRoles].sort()).toEqual(['Approvinator', 'Informative', 'Obligated'])
  expect(Object.values(decisionWords)).toEqual(['OK', 'OK with corrections', 'New proof needed'])
  expect(roleTerms).toEqual({
    Obligated: 'must approve',
    Approvinator: 'final say',
    Informative: 'for information',
  })
  for (const decision of ['OK', 'approved', 'Pending', ''])
    expect(() => checkEntry({ ...said('Client', 'Obligated', 'Approved'), decision }, 'record')).toThrow(
      'field "decision": expected one of Approved, ApprovedWithComment, Rejected',
    )
  expect(() => checkEntry({ ...said('Client', 'Obligated', 'Approved'), role: 'Boss' }, 'record')).toThrow(
    'field "role"',
  )
})

test('a record reads back as it was written, and its hashes fit', () => {
  const text = recordText(record)
  expect(parseRecord(text, 'comet.signoff.json')).toEqual(record)
  expect(brokenIn(record, text)).toEqual([])
  expect(record.statement).toMatch(/no proof of identity/)
})

test('a record of a newer version says so', () => {
  expect(() => parseRecord(JSON.stringify({ ...record, version: 2 }), 'comet.signoff.json')).toThrow(
    'was written by a newer rakelight (version 2; this one reads up to 1)',
  )
})

/** Whether a file of a record, changed, is told from the one that was written. */
function seen(text: string): boolean {
  try {
    return brokenIn(parseRecord(text, 'record'), text).length > 0
  } catch (error) {
    if (error instanceof BadInput) return true
    throw error
  }
}

test('any one character that is changed, taken away or put in is seen', () => {
  const text = recordText(record)
  const place = fc.nat({ max: text.length - 1 })
  const character = fc.oneof(
    fc.constantFrom(...' \n\t0123456789abcdefABCDEF"{}[],:.-+eE\\u/'),
    fc.string({ unit: 'binary', minLength: 1, maxLength: 1 }),
  )
  fc.assert(
    fc.property(place, character, fc.constantFrom('change', 'remove', 'insert'), (at, put, how) => {
      const rest = text.slice(how === 'insert' ? at : at + 1)
      const changed = text.slice(0, at) + (how === 'remove' ? '' : put) + rest
      return changed === text || seen(changed)
    }),
    { numRuns: 600 },
  )
})

test('any one value that is changed breaks a hash, whatever field it is in', () => {
  const paths: (readonly string[])[] = []
  const walk = (value: unknown, path: readonly string[]) => {
    if (typeof value === 'object' && value !== null)
      for (const [key, one] of Object.entries(value)) walk(one, [...path, key])
    else paths.push(path)
  }
  walk(record, [])
  expect(paths.length).toBeGreaterThan(100)
  for (const path of paths) {
    const copy = structuredClone(record)
    let at = copy as unknown as Record<string, unknown>
    for (const key of path.slice(0, -1)) at = at[key] as Record<string, unknown>
    const last = path.at(-1)!
    const value = at[last]
    at[last] = typeof value === 'number' ? value + 1 : typeof value === 'string' ? `${value}x` : !value
    expect([path, brokenIn(copy).length > 0]).toEqual([path, true])
  }
})

test('an entry that is taken away shows, at the end too, and one that was made anew does not fit the chain', () => {
  const [first, second, third] = record.entries
  const without = { ...record, entries: [first!, third!] }
  expect(brokenIn(without).map(one => one.where)).toEqual(['entry 2, Sales', 'the record'])
  expect(brokenIn({ ...record, entries: [first!, second!] }).map(one => one.where)).toEqual(['the record'])
  const { sha256: _, ...forged } = { ...second!, at: '2026-03-04T10:00:01Z' }
  const put = { ...record, entries: [first!, { ...forged, sha256: hashOf(forged) }, third!] }
  const { seal: __, ...rest } = put
  // Even with a new seal the entry after it names another one.
  const sealed = { ...put, seal: hashOf(rest) } as SignoffRecord
  expect(brokenIn(sealed)).toEqual([{ where: 'entry 3, Sales', message: 'does not follow entry 2' }])
})

test('a round is decided when all who must approve have, by the worst that they said', () => {
  const start = withEntry(newRecord(of, null), asked)
  expect(roundOf(start).state).toEqual({ kind: 'open', waiting: ['Client', 'Printer'] })
  expect(roundOf(record).state).toEqual({ kind: 'open', waiting: ['Printer'] })
  const both = (decision: Decision) =>
    roundOf(withEntry(record, said('Printer', 'Obligated', decision))).state
  for (const decision of decisionNames) expect(both(decision)).toEqual({ kind: 'decided', decision })
  // Somebody may change their mind while the round lasts.
  const changed = withEntry(
    withEntry(record, said('Printer', 'Obligated', 'Rejected')),
    said('Printer', 'Obligated', 'Approved'),
  )
  expect(roundOf(changed).state).toEqual({ kind: 'decided', decision: 'Approved' })
  expect(roundOf(record).people.map(one => one.said?.decision ?? null)).toEqual([
    'Approved',
    null,
    null,
    'Rejected',
  ])
})

test('nobody asked, or none who must approve, decides nothing', () => {
  expect(roundOf(newRecord(of, null)).state).toEqual({ kind: 'open', waiting: [] })
  const sales = { ...asked, people: [{ name: 'Sales', role: 'Informative' as const }] }
  const told = withEntry(withEntry(newRecord(of, null), sales), said('Sales', 'Informative', 'Approved'))
  expect(roundOf(told).state).toEqual({ kind: 'open', waiting: [] })
})

test('the final say overrides the others and ends the round', () => {
  const ended = withEntry(
    withEntry(record, said('Printer', 'Obligated', 'Rejected')),
    said('Art director', 'Approvinator', 'ApprovedWithComment'),
  )
  expect(roundOf(ended).state).toEqual({
    kind: 'ended',
    decision: 'ApprovedWithComment',
    by: 'Art director',
  })
  expect(() => checkNext(ended, said('Client', 'Obligated', 'Rejected'), 'record')).toThrow(
    'was ended by Art director, who has the final say: OK with corrections',
  )
})

test.each([
  [said('Stranger', 'Obligated', 'Approved'), 'Stranger was not asked'],
  [said('Client', 'Approvinator', 'Approved'), 'was asked as "must approve", not as "final say"'],
  [
    { ...said('Client', 'Obligated', 'ApprovedWithComment'), conditions: [] },
    '"OK with corrections" does not say which',
  ],
  [{ ...said('Client', 'Obligated', 'Rejected'), reason: '' }, '"New proof needed" does not say why'],
  [
    { ...asked, people: asked.people.filter(one => one.name !== 'Client') },
    'Client (must approve) has decided and cannot be taken out',
  ],
] as const)('an entry that may not be made is refused: %#', (entry, message) => {
  expect(() => checkNext(record, entry, 'record')).toThrow(message)
})

test('an entry that may be made is not', () => {
  checkNext(record, said('Printer', 'Obligated', 'Approved'), 'record')
  const more = [...asked.people, { name: 'Lab', role: 'Obligated' as const }]
  checkNext(record, { ...asked, people: more }, 'record')
})
