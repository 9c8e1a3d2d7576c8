import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addedCount, conflicts, mergeNotes, notesMark } from '../../../core/proof/merge-notes.ts'
import {
  type Answer,
  emptyNotes,
  type Note,
  noteLimits,
  noteState,
  notesText,
} from '../../../core/proof/notes.ts'
import { parseNotes } from '../../../core/proof/read-notes.ts'

const note: Note = {
  id: 'comet-0001',
  of: 'ab'.repeat(32),
  author: 'Client',
  at: '2026-03-04T09:30:00Z',
  text: 'The tail of the comet is too quiet here',
  place: { xMm: 31.5, yMm: 12 },
  lamp: { azimuthDeg: 45, elevationDeg: 60, distanceMm: 400, diameterMm: 30 },
  view: {
    pose: { tiltForwardDeg: 5, tiltSideDeg: 0, turnDeg: 10 },
    eye: { distanceMm: 350, sideDeg: 0, riseDeg: 0 },
  },
  answers: [],
}
const answer: Answer = { author: 'Studio', at: '2026-03-05T08:00:00Z', text: 'Deeper now', state: 'settled' }
const file = { ...emptyNotes('comet.job.json', null), notes: [{ ...note, answers: [answer] }] }

test('a file of notes reads back as it was written', () => {
  expect(parseNotes(notesText(file), 'comet.notes.json')).toEqual(file)
})

test('the last answer that says so settles a note or opens it again', () => {
  expect(noteState(note)).toBe('open')
  expect(noteState({ answers: [answer] })).toBe('settled')
  const more = { ...answer, state: null, text: 'Thank you' }
  expect(noteState({ answers: [answer, more] })).toBe('settled')
  expect(noteState({ answers: [answer, { ...more, state: 'open' }] })).toBe('open')
})

test.each([
  [{ version: 2 }, 'field "version": was written by a newer rakelight (version 2; this one reads up to 1)'],
  [{ format: 'rakelight-job' }, 'field "format": expected "rakelight-notes"'],
  [{ notes: [{ ...note, text: '' }] }, 'field "notes.0.text"'],
  [{ notes: [{ ...note, author: 'Client\u001b[2J' }] }, 'expected a text without control characters'],
  [{ notes: [{ ...note, text: 'x'.repeat(noteLimits.text + 1) }] }, 'field "notes.0.text"'],
  [{ notes: [{ ...note, id: '<b>1234567' }] }, 'field "notes.0.id"'],
  [{ notes: [{ ...note, at: '2026-02-30T10:00:00' }] }, 'field "notes.0.at"'],
  [{ notes: [{ ...note, lamp: { ...note.lamp, elevationDeg: 120 } }] }, 'field "notes.0.lamp.elevationDeg"'],
  [{ notes: new Array(noteLimits.notes + 1).fill(note) }, 'expected at most 2000 notes, got 2001'],
])('a file that cannot be used says where: %#', (change, message) => {
  const text = JSON.stringify({ ...file, ...change })
  expect(() => parseNotes(text, 'comet.notes.json')).toThrow(message)
})

test('notes of another job are refused by the name of that job, those of an older version are marked', () => {
  const versions = [
    { id: '1'.repeat(64), madeAt: '2026-03-01T00:00:00Z' },
    { id: '2'.repeat(64), madeAt: '2026-03-02T00:00:00Z' },
  ]
  const job = { name: 'comet.job.json', versions }
  const mark = (jobName: string, of: string | null) => notesMark({ jobName, of }, job, 'back.notes.json')
  expect(mark('comet.job.json', '2'.repeat(64))).toEqual({ kind: 'newest' })
  expect(mark('comet.job.json', null)).toEqual({ kind: 'newest' })
  expect(mark('comet.job.json', '1'.repeat(64))).toEqual({
    kind: 'older',
    of: '1'.repeat(64),
    madeAt: '2026-03-01T00:00:00Z',
  })
  expect(mark('comet.job.json', '3'.repeat(64))).toEqual({ kind: 'unlisted', of: '3'.repeat(64) })
  // A job that was renamed after its proof went out is still the same one.
  expect(mark('old name.job.json', '2'.repeat(64))).toEqual({ kind: 'newest' })
  expect(() => mark('lens.job.json', '3'.repeat(64))).toThrow(
    'the notes belong to "lens.job.json", version 33333333, not to "comet.job.json"',
  )
})

const times = fc.constantFrom('2026-03-04T09:30:00Z', '2026-03-04T09:30:00.5Z', '2026-03-05T00:00:00Z')
const answers = fc.array(
  fc.record({
    author: fc.constantFrom('Client', 'Studio'),
    at: times,
    text: fc.constantFrom('', 'yes', 'no'),
    state: fc.constantFrom('open' as const, 'settled' as const, null),
  }),
  { maxLength: 3 },
)
const lists = fc.array(
  fc
    .record({
      id: fc.constantFrom('note-0001', 'note-0002', 'note-0003'),
      author: fc.constantFrom('Client', 'Studio'),
      at: times,
      text: fc.constantFrom('brighter', 'darker'),
      answers,
    })
    .map((said): Note => ({ ...note, ...said })),
  { maxLength: 5 },
)
const merged = (a: readonly Note[], b: readonly Note[]) => mergeNotes(a, b, 'notes')

test('merging does not depend on order, does nothing twice, and loses nothing', () => {
  fc.assert(
    fc.property(lists, lists, lists, (a, b, c) => {
      const both = merged(a, b)
      expect(merged(b, a)).toEqual(both)
      expect(merged(both, both)).toEqual(both)
      expect(merged(both, a)).toEqual(both)
      expect(merged(merged(a, b), c)).toEqual(merged(a, merged(b, c)))
      for (const list of [a, b]) expect(addedCount(both, list)).toBe(0)
      expect(addedCount([], both)).toBe(addedCount(a, both) + addedCount([], a))
    }),
  )
})

test('one id with two texts is kept side by side and told as a conflict', () => {
  const other = { ...note, text: 'The tail of the comet is too loud here' }
  const both = merged([note], [other])
  expect(both.map(one => one.text).sort()).toEqual([other.text, note.text].sort())
  expect([...conflicts(both)]).toEqual([note.id])
  expect(conflicts(merged([note], [{ ...note, answers: [answer] }])).size).toBe(0)
})

test('more than a file holds is refused, not dropped', () => {
  const many = Array.from({ length: noteLimits.notes }, (_, i) => ({ ...note, id: `note-${1000 + i}` }))
  expect(() => merged(many, [note])).toThrow('would hold 2001 notes; a file holds 2000')
})
