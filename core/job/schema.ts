import * as v from 'valibot'
import { roleNames } from '../roles/role.ts'
import { jobFormat, jobVersion } from './job.ts'

/** The fields of a job file, each with its range. Messages read "expected …, got …". */

const got = (input: unknown): string => {
  if (typeof input === 'string') return JSON.stringify(input.length > 40 ? `${input.slice(0, 40)}…` : input)
  if (typeof input === 'number' || typeof input === 'boolean' || input === null) return String(input)
  if (input === undefined) return 'nothing'
  return Array.isArray(input) ? 'a list' : 'an object'
}
export const wants = (what: string) => (issue: { readonly input: unknown }) =>
  `expected ${what}, got ${got(issue.input)}`

/** A number in [min, max]. */
export function range(min: number, max: number, unit = '') {
  const says = wants(`a number from ${min} to ${max}${unit && ` ${unit}`}`)
  return v.pipe(v.number(says), v.minValue(min, says), v.maxValue(max, says))
}

function text(what: string) {
  return v.pipe(v.string(wants(what)), v.nonEmpty(wants(what)))
}

function list<T extends v.GenericSchema>(item: T) {
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

/** How often a plate prints. */
export const hits = v.pipe(range(1, 9), v.integer(wants('a whole number')))
const flag = v.boolean(wants('true or false'))
const role = oneOf(roleNames)
const target = fields({ kind: oneOf(['layer', 'channel']), id: text('the id of a layer or channel') })

const amount = v.variant(
  'from',
  [
    fields({ from: v.literal('alpha') }),
    fields({ from: v.literal('darkness') }),
    fields({ from: v.literal('lightness') }),
    fields({ from: v.literal('ink'), ink: oneOf(['C', 'M', 'Y', 'K']) }),
    fields({ from: v.literal('plane') }),
  ],
  wants('alpha, darkness, lightness, ink or plane'),
)

/** Largest length of a panel, mm: 300 000 px at 10 ppi. */
const maxLengthMm = 762_000
const length = range(0.01, maxLengthMm, 'mm')

const lamp = fields({
  azimuthDeg: range(-3600, 3600, 'degrees'),
  elevationDeg: range(0.1, 90, 'degrees above the table'),
  distanceMm: range(1, 100_000, 'mm'),
  diameterMm: range(0.01, 10_000, 'mm'),
})

const pose = fields({
  tiltForwardDeg: range(-90, 90, 'degrees'),
  tiltSideDeg: range(-90, 90, 'degrees'),
  turnDeg: range(-3600, 3600, 'degrees'),
})

const path = fields({
  name: text('a name'),
  loop: flag,
  keys: v.pipe(
    list(fields({ timeS: range(0, 86_400, 's'), lamp, pose })),
    v.nonEmpty('expected at least one key, got none'),
    v.check(keys => keys[0]?.timeS === 0, 'expected the first key at 0 s'),
    v.check(
      keys => keys.every((key, i) => i === 0 || key.timeS > keys[i - 1]!.timeS),
      'expected times that rise from key to key',
    ),
  ),
})

export const jobSchema = fields({
  format: v.literal(jobFormat),
  version: v.literal(jobVersion),
  art: fields({
    path: text('the path of the art'),
    sha256: v.pipe(
      v.string(wants('64 hexadecimal digits')),
      v.regex(/^[0-9a-f]{64}$/, wants('64 hexadecimal digits')),
    ),
  }),
  panel: fields({ widthMm: length, heightMm: length, resolutionPpi: range(0.01, 10_000, 'ppi') }),
  roles: list(fields({ target, role, amount: v.nullable(amount) })),
  found: list(fields({ target, name: v.string(wants('a name')), role })),
  aliases: list(fields({ word: text('a word'), role })),
  effects: list(
    fields({
      target,
      effect: fields({
        kind: text('the name of an effect'),
        parameters: v.record(v.string(), v.unknown(), wants('an object')),
      }),
    }),
  ),
  whites: list(
    fields({
      target,
      opacity: range(0, 1),
      hits,
    }),
  ),
  board: fields({
    wavinessMrad: range(0, 100, 'mrad'),
    glossRoughness: range(0.001, 1),
    cellUm: v.strictTuple([range(1, 10_000, 'µm'), range(1, 10_000, 'µm')], wants('two numbers')),
  }),
  light: fields({ lamp, illuminant: oneOf(['A', 'D50', 'D65']), roomLevel: range(0, 100) }),
  view: fields({
    pose,
    eyeDistanceMm: range(10, 100_000, 'mm'),
    exposureStops: range(-20, 20, 'stops'),
    adapt: flag,
    gamut: oneOf(['srgb', 'display-p3']),
  }),
  paths: v.pipe(
    list(path),
    v.check(
      paths => new Set(paths.map(one => one.name)).size === paths.length,
      'two paths have the same name',
    ),
  ),
})
