import * as v from 'valibot'
import { eye, lamp, pose } from '../job/schema/light.ts'
import { fields, list, maxLengthMm, oneOf, range, sha256, tooMany, wants } from '../job/schema/value.ts'
import { type Note, type NotesFile, noteLimits, noteStates, notesFormat, notesVersion } from './notes.ts'
import {
  checkFields,
  checkFormat,
  type FileFormat,
  instant,
  longText,
  readJson,
  shortText,
} from './schema.ts'

const file: FileFormat = {
  format: notesFormat,
  version: notesVersion,
  called: 'a file of notes',
  code: 'notes',
}

const author = shortText('a name', noteLimits.author)

const answer = fields({
  author,
  at: instant,
  text: longText('a text', noteLimits.text),
  state: v.nullable(oneOf(noteStates)),
})

const note = fields({
  id: v.pipe(
    v.string(wants('an id')),
    v.regex(/^[A-Za-z0-9-]{8,64}$/, wants('an id of 8 to 64 letters, digits and -')),
  ),
  of: v.nullable(sha256),
  author,
  at: instant,
  text: shortText('a text', noteLimits.text),
  place: fields({
    xMm: range(-maxLengthMm, maxLengthMm, 'mm'),
    yMm: range(-maxLengthMm, maxLengthMm, 'mm'),
  }),
  lamp,
  view: fields({ pose, eye }),
  answers: v.pipe(
    list(answer),
    v.maxLength(noteLimits.answers, issue => tooMany(noteLimits.answers, 'answers', issue)),
  ),
})

const noteList = v.pipe(
  list(note),
  v.maxLength(noteLimits.notes, issue => tooMany(noteLimits.notes, 'notes', issue)),
)

const schema = fields({
  format: v.literal(notesFormat),
  version: v.literal(notesVersion),
  jobName: shortText('the name of a job', 1000),
  of: v.nullable(sha256),
  notes: noteList,
})

/** Notes from the text of their file. Throws BadInput with the place; a file of a newer rakelight says so. */
export function parseNotes(text: string, name: string): NotesFile {
  return checkNotes(readJson(text, name, file), name)
}

/** The same for a value that is already parsed. */
export function checkNotes(value: unknown, name: string): NotesFile {
  checkFormat(value, name, file)
  return checkFields(schema, value, name, file)
}

/** Notes alone, as a page adds them. */
export function checkNoteList(value: unknown, name: string): readonly Note[] {
  return checkFields(noteList, value, name, file)
}
