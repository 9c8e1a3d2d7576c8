import * as v from 'valibot'
import { BadInput } from '../base/finding.ts'
import { placeInJson } from '../job/json-place.ts'
import { wants } from '../job/schema/value.ts'

/** A file format of proofs: what its `format` field says, the newest version that is read, what a reader calls it. */
export interface FileFormat {
  readonly format: string
  readonly version: number
  /** As in "a notes file". */
  readonly called: string
  /** First word of its codes, as in `notes-newer`. */
  readonly code: string
}

/** ISO 8601 in UTC, as every time in these files: `2026-03-04T09:30:00Z`, with or without parts of a second. */
export const instant = v.pipe(
  v.string(wants('a time')),
  v.regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?Z$/, wants('a time in UTC, as 2026-03-04T09:30:00Z')),
  v.check(text => !Number.isNaN(Date.parse(text)), wants('a day and a time that exist')),
)

/** These files come from strangers and are shown in terminals, which obey control characters. */
const readable = v.check(
  (text: string) => !/\p{Cc}/u.test(text.replace(/[\n\t]/g, '')),
  wants('a text without control characters'),
)

/** A text of at least one and at most `most` characters. */
export function shortText(what: string, most: number) {
  const says = wants(`${what} of 1 to ${most} characters`)
  return v.pipe(v.string(says), v.minLength(1, says), v.maxLength(most, says), readable)
}

/** A text that may be empty. */
export function longText(what: string, most: number) {
  const says = wants(`${what} of at most ${most} characters`)
  return v.pipe(v.string(says), v.maxLength(most, says), readable)
}

/** The value of a JSON text. Throws BadInput with the place where it is none. */
export function readJson(text: string, name: string, { code, called }: FileFormat): unknown {
  try {
    return JSON.parse(text)
  } catch (error) {
    throw new BadInput(
      `${code}-malformed`,
      name,
      placeInJson(text, error),
      'is not JSON',
      `Choose ${called}, or restore it from a copy`,
    )
  }
}

/** Throws BadInput unless a value says that it is of the format, in a version that this program reads. */
export function checkFormat(value: unknown, name: string, file: FileFormat): void {
  const { format, version } = isRecord(value) ? value : { format: undefined, version: undefined }
  if (format !== file.format)
    throw new BadInput(
      `not-${file.code}`,
      name,
      'field "format"',
      `expected "${file.format}"`,
      `Choose ${file.called}`,
    )
  if (typeof version === 'number' && Number.isInteger(version) && version > file.version)
    throw new BadInput(
      `${file.code}-newer`,
      name,
      'field "version"',
      `was written by a newer rakelight (version ${version}; this one reads up to ${file.version})`,
      'Update rakelight on this machine',
    )
}

/** A value held to its schema. Throws BadInput, naming the field. */
export function checkFields<T extends v.GenericSchema>(
  schema: T,
  value: unknown,
  name: string,
  { code }: Pick<FileFormat, 'code'>,
): v.InferOutput<T> {
  const parsed = v.safeParse(schema, value)
  if (parsed.success) return parsed.output
  const [issue] = parsed.issues
  const path = v.getDotPath(issue)
  throw new BadInput(
    `${code}-malformed`,
    name,
    path === null ? 'the file' : `field "${path}"`,
    issue.message,
    'Correct the field, or ask for the file again',
  )
}

export const isRecord = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
