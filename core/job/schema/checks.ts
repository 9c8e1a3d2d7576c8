import * as v from 'valibot'
import { recipeRanges } from '../../checks/white/recipe.ts'
import { misfitRanges } from '../register.ts'
import { furthest, ring } from './effect.ts'
import { fields, list, range, text, wants } from './value.ts'

/** What a job says to its checks. Keys of limits, kinds of marks and groups are not looked at: those of a later version are kept. */

export const limits = v.record(
  text('the key of a limit'),
  fields({
    value: v.pipe(v.number(wants('a number')), v.finite(wants('a number'))),
    note: v.string(wants('a note')),
  }),
  wants('limits by key'),
)

export const waivers = v.pipe(
  list(
    fields({
      key: text('the key of a finding'),
      reason: text('a reason'),
      by: text('a name'),
      on: v.pipe(v.string(wants('a day such as 2026-03-31')), v.isoDate(wants('a day such as 2026-03-31'))),
    }),
  ),
  v.maxLength(10_000, 'expected at most 10 000 waivers'),
  v.check(all => new Set(all.map(one => one.key)).size === all.length, 'a finding is waived twice'),
)

const box = v.pipe(
  fields({ leftMm: furthest, bottomMm: furthest, rightMm: furthest, topMm: furthest }),
  v.check(
    one => one.leftMm < one.rightMm && one.bottomMm < one.topMm,
    'expected left below right and bottom below top',
  ),
)
const shape = v.variant(
  'kind',
  [
    fields({ kind: v.literal('box'), box }),
    fields({
      kind: v.literal('outline'),
      rings: v.pipe(list(ring), v.nonEmpty('expected one ring at least')),
    }),
  ],
  wants('a box or an outline'),
)
export const marked = v.pipe(
  list(fields({ name: text('a name'), kind: text('what it is marked as'), shape })),
  v.maxLength(10_000, 'expected at most 10 000 marked areas'),
  v.check(
    all => new Set(all.map(one => one.name)).size === all.length,
    'two marked areas have the same name',
  ),
)

const layerIds = v.pipe(
  list(text('the id of a layer')),
  v.maxLength(10_000, 'expected at most 10 000 layers'),
)
export const madeWhite = fields({
  name: text('a name'),
  under: layerIds,
  knockOut: layerIds,
  patches: v.pipe(
    list(fields({ name: text('a name'), box })),
    v.maxLength(10_000, 'expected at most 10 000 patches'),
  ),
  design: fields({
    chokeMm: range(...recipeRanges.chokeMm, 'mm'),
    spreadMm: range(...recipeRanges.spreadMm, 'mm'),
    chokeFromPt: range(...recipeRanges.chokeFromPt, 'pt'),
  }),
})

const stretch = range(...misfitRanges.stretchPercent, '%')
export const register = v.record(
  text('a group of plates'),
  fields({
    xMm: range(...misfitRanges.offsetMm, 'mm'),
    yMm: range(...misfitRanges.offsetMm, 'mm'),
    turnDeg: range(...misfitRanges.turnDeg, 'degrees'),
    stretchXPercent: stretch,
    stretchYPercent: stretch,
  }),
  wants('misfits by group'),
)
