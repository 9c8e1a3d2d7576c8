import * as v from 'valibot'
import { furthestPoint, mostOutlines, mostPoints, mostRings } from '../../effects/outline.ts'
import { registerRanges } from '../../effects/register.ts'
import { fields, list, oneOf, range, text, wants } from './value.ts'

const register = v.variant(
  'mode',
  [
    fields({ mode: v.literal('registered') }),
    fields({
      mode: v.literal('continuous'),
      repeatMm: range(...registerRanges.repeatMm, 'mm'),
      seamMm: range(...registerRanges.seamMm, 'mm'),
      directionDeg: range(...registerRanges.directionDeg, 'degrees'),
      sheet: v.pipe(range(...registerRanges.sheet), v.integer(wants('a whole number'))),
    }),
  ],
  wants('registered or continuous'),
)
const follow = fields({
  what: oneOf(['share', 'depth']),
  from: v.union([v.literal('own'), fields({ layerId: text('the id of a layer') })], wants('own or a layer')),
  gain: range(-1, 1),
})
/** Kind and parameters are not looked at: an effect that this version does not know is kept. */
const effect = fields({
  kind: text('the name of an effect'),
  parameters: v.record(v.string(), v.unknown(), wants('an object')),
  register: v.exactOptional(register),
  follow: v.exactOptional(follow),
})
export const effectTarget = fields({
  kind: oneOf(['layer', 'channel', 'outline']),
  id: text('the id of a layer, channel or outline'),
})
export const effectList = list(fields({ target: effectTarget, effect }))

/** How far from the art's corner a point may lie. */
export const furthest = range(-furthestPoint, furthestPoint, 'mm')
export const ring = v.pipe(
  list(v.strictTuple([furthest, furthest], wants('two numbers'))),
  v.maxLength(mostPoints, `expected at most ${mostPoints} points`),
)
const outline = fields({
  id: text('an id'),
  name: text('a name'),
  rings: v.pipe(list(ring), v.maxLength(mostRings, `expected at most ${mostRings} rings`)),
})
export const outlines = v.pipe(
  list(outline),
  v.maxLength(mostOutlines, `expected at most ${mostOutlines} outlines`),
  v.check(all => new Set(all.map(one => one.id)).size === all.length, 'two outlines have the same id'),
)
export const presets = v.pipe(
  list(fields({ name: text('a name'), effect })),
  v.check(all => new Set(all.map(one => one.name)).size === all.length, 'two presets have the same name'),
)
