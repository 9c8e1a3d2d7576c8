import * as v from 'valibot'

/** Values of a job file. Messages read "expected …, got …". */

const got = (input: unknown): string => {
  if (typeof input === 'string') return JSON.stringify(input.length > 40 ? `${input.slice(0, 40)}…` : input)
  if (typeof input === 'number' || typeof input === 'boolean' || input === null) return String(input)
  if (input === undefined) return 'nothing'
  return Array.isArray(input) ? 'a list' : 'an object'
}
export const wants = (what: string) => (issue: { readonly input: unknown }) =>
  `expected ${what}, got ${got(issue.input)}`

/** What is said of a list that is too long. */
export const tooMany = (most: number, what: string, issue: { readonly input: readonly unknown[] }) =>
  `expected at most ${most} ${what}, got ${issue.input.length}`

/** A number in [min, max]. */
export function range(min: number, max: number, unit = '') {
  const says = wants(`a number from ${min} to ${max}${unit && ` ${unit}`}`)
  return v.pipe(v.number(says), v.minValue(min, says), v.maxValue(max, says))
}

export function part() {
  const says = wants('a part from 0 to 1 (60 % is 0.6)')
  return v.pipe(v.number(says), v.minValue(0, says), v.maxValue(1, says))
}

export function text(what: string) {
  return v.pipe(v.string(wants(what)), v.nonEmpty(wants(what)))
}

export function list<T extends v.GenericSchema>(item: T) {
  return v.array(item, wants('a list'))
}

export function fields<T extends v.ObjectEntries>(entries: T) {
  return v.strictObject(entries, issue =>
    issue.expected === 'never' ? 'is a field this version does not know' : wants('an object')(issue),
  )
}

export function oneOf<const T extends readonly string[]>(names: T) {
  return v.picklist(names, wants(`one of ${names.join(', ')}`))
}

export const flag = v.boolean(wants('true or false'))
export const sha256 = v.pipe(
  v.string(wants('64 hexadecimal digits')),
  v.regex(/^[0-9a-f]{64}$/, wants('64 hexadecimal digits')),
)
/** Largest length of a panel, mm: 300 000 px at 10 ppi. */
export const maxLengthMm = 762_000
