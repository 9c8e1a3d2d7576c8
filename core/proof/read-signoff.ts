import * as v from 'valibot'
import { fields, list, oneOf, range, sha256, text, tooMany, wants } from '../job/schema/value.ts'
import { roleNames } from '../roles/role.ts'
import {
  checkFields,
  checkFormat,
  type FileFormat,
  instant,
  longText,
  readJson,
  shortText,
} from './schema.ts'
import {
  decisionNames,
  type EntryContent,
  hashOf,
  headHash,
  recordText,
  type SignoffRecord,
  signerRoles,
  signoffFormat,
  signoffLimits,
  signoffVersion,
  viewingConditions,
} from './signoff.ts'

const file: FileFormat = {
  format: signoffFormat,
  version: signoffVersion,
  called: 'a record of sign-off',
  code: 'signoff',
}

const name = shortText('a name', signoffLimits.name)
const words = (what: string) => longText(what, signoffLimits.text)
const count = v.pipe(
  v.number(wants('a count')),
  v.safeInteger(wants('a count')),
  v.minValue(0, wants('a count')),
)

export const signedFile = fields({
  name: shortText('the name of a file', signoffLimits.text),
  sha256,
  bytes: count,
})

const signers = v.pipe(
  list(fields({ name, role: oneOf(signerRoles) })),
  v.maxLength(signoffLimits.people, issue => tooMany(signoffLimits.people, 'people', issue)),
  v.check(all => new Set(all.map(one => one.name)).size === all.length, 'two people have the same name'),
)

const people = fields({ kind: v.literal('people'), at: instant, by: name, people: signers })

/** What somebody decides, and on what they saw. */
const decided = {
  role: oneOf(signerRoles),
  decision: oneOf(decisionNames),
  conditions: v.pipe(
    list(shortText('a condition', signoffLimits.text)),
    v.maxLength(signoffLimits.conditions, issue => tooMany(signoffLimits.conditions, 'conditions', issue)),
  ),
  reason: words('a reason'),
  viewing: v.nullable(
    fields({
      condition: oneOf(viewingConditions),
      lux: v.nullable(range(0.01, 1_000_000, 'lx')),
      light: words('the light'),
      room: words('the room'),
    }),
  ),
  display: v.nullable(
    fields({
      kind: shortText('a kind of display', signoffLimits.text),
      white: words('its white'),
      luminance: v.nullable(range(0.01, 100_000, 'cd/m²')),
      profile: words('its profile'),
      calibratedOn: v.nullable(
        v.pipe(v.string(wants('a day such as 2026-03-31')), v.isoDate(wants('a day such as 2026-03-31'))),
      ),
    }),
  ),
}

const decision = fields({
  kind: v.literal('decision'),
  at: instant,
  by: name,
  ...decided,
  notes: v.nullable(fields({ open: count, settled: count, sha256 })),
})

/** What a form says of somebody who asks or decides. */
export const signWish = fields({ by: name, ask: signers, decision: v.nullable(fields(decided)) })

const content = v.variant('kind', [people, decision], wants('people or a decision'))

const links = { before: sha256, sha256 }
const entry = v.variant(
  'kind',
  [fields({ ...people.entries, ...links }), fields({ ...decision.entries, ...links })],
  wants('people or a decision'),
)

const record = fields({
  format: v.literal(signoffFormat),
  version: v.literal(signoffVersion),
  /** Its hashes are looked at by `brokenIn`; `signedVersion` reads it. */
  of: v.looseObject({ id: sha256, jobName: text('the name of a job') }, wants('a version')),
  proof: v.nullable(signedFile),
  layers: v.pipe(
    list(
      fields({
        kind: oneOf(['document', 'layer', 'channel']),
        id: v.string(wants('an id')),
        name: v.string(wants('a name')),
        role: v.nullable(oneOf(roleNames)),
        sha256,
      }),
    ),
    v.maxLength(100_000, 'expected at most 100 000 layers'),
  ),
  supersedes: v.nullable(fields({ name: shortText('the name of a file', signoffLimits.text), seal: sha256 })),
  statement: words('a statement'),
  entries: v.pipe(
    list(entry),
    v.maxLength(signoffLimits.entries, issue => tooMany(signoffLimits.entries, 'entries', issue)),
  ),
  seal: sha256,
})

/** An entry as a form or a command line makes it. Throws BadInput, naming the field. */
export function checkEntry(value: unknown, name: string): EntryContent {
  return checkFields(content, value, name, file)
}

/**
 * A record from the text of its file, whether or not its hashes fit: {@link brokenIn} says that.
 * Throws BadInput with the place; a file of a newer rakelight says so.
 */
export function parseRecord(text: string, name: string): SignoffRecord {
  const value = readJson(text, name, file)
  checkFormat(value, name, file)
  checkFields(record, value, name, file)
  // As it came, so that whatever it holds is hashed as it stands.
  return value as SignoffRecord
}

/** A place where a record is not what it was when it was written. */
export interface Broken {
  /** As in `entry 2`. */
  readonly where: string
  readonly message: string
}

/**
 * Every place where a record's hashes do not fit what it says. With the text of its file, its layout counts too, so
 * that no character can be changed unseen.
 */
export function brokenIn(record: SignoffRecord, fileText: string | null = null): readonly Broken[] {
  const broken: Broken[] = []
  const { id, ...of } = record.of
  if (safeHash(record.of.job) !== record.of.jobSha256)
    broken.push({ where: 'the job in it', message: 'is not what its hash says' })
  if (safeHash(of) !== id) broken.push({ where: 'its version', message: 'is not what its id says' })
  let before = tryHash(() => headHash(record))
  for (const [i, { sha256, ...rest }] of record.entries.entries()) {
    const where = `entry ${i + 1}, ${rest.by}`
    if (rest.before !== before)
      broken.push({
        where,
        message: i === 0 ? 'does not follow what stands above it' : `does not follow entry ${i}`,
      })
    if (safeHash(rest) !== sha256) broken.push({ where, message: 'is not what its hash says' })
    before = sha256
  }
  const { seal, ...sealed } = record
  if (safeHash(sealed) !== seal)
    broken.push({
      where: 'the record',
      message: 'is not what its seal says: something in it was changed or taken away',
    })
  if (broken.length === 0 && fileText !== null && fileText !== recordText(record))
    broken.push({
      where: 'its layout',
      message: 'spaces, line ends or spellings of characters were changed; what it says is the same',
    })
  return broken
}

const safeHash = (value: unknown): string | null => tryHash(() => hashOf(value))

/** Half a character has no hash: whatever it was changed from had one. */
function tryHash(make: () => string): string | null {
  try {
    return make()
  } catch {
    return null
  }
}
