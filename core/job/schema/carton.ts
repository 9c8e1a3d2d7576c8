import * as v from 'valibot'
import { lineKinds } from '../../carton/die.ts'
import { type SettingKey, settingKeys, settings } from '../../carton/settings.ts'
import { measures } from '../../carton/spec.ts'
import { fields, list, oneOf, range, text, wants } from './value.ts'

const mm = range(0, 3000, 'mm')
const end = v.variant(
  'kind',
  [
    fields({
      kind: v.literal('tuck'),
      on: oneOf(['front', 'back']),
      rule: v.exactOptional(oneOf(['crease', 'perforation', 'cut-crease'])),
    }),
    fields({ kind: v.literal('seal'), on: oneOf(['front', 'back']) }),
    fields({ kind: v.literal('snap-lock') }),
    fields({ kind: v.literal('crash-lock') }),
    fields({ kind: v.literal('open') }),
  ],
  wants('a kind of end'),
)
/** Whether a carton of these sizes can be made is said by whoever draws it. */
const sizedForm = fields({
  from: v.literal('sizes'),
  top: end,
  bottom: end,
  lengthMm: mm,
  widthMm: mm,
  heightMm: mm,
  measure: oneOf(measures),
  own: fields(
    Object.fromEntries(
      settingKeys.map(key => [key, v.exactOptional(range(...settings[key].range, settings[key].unit))]),
    ) as Record<SettingKey, v.ExactOptionalSchema<ReturnType<typeof range>, undefined>>,
  ),
  code: v.pipe(v.string(wants('a text')), v.maxLength(60, 'expected at most 60 characters')),
})
const diePoint = v.strictTuple(
  [range(-10_000, 10_000, 'mm'), range(-10_000, 10_000, 'mm')],
  wants('two numbers'),
)
const diePoints = v.pipe(list(diePoint), v.minLength(2, 'expected two points at least'))
const drawnForm = fields({
  from: v.literal('drawing'),
  name: text('the name of a file'),
  lines: v.pipe(
    list(fields({ kind: oneOf(lineKinds), points: diePoints })),
    v.maxLength(20_000, 'expected at most 20 000 lines'),
  ),
  glue: list(diePoints),
})
export const carton = fields({
  form: v.variant('from', [sizedForm, drawnForm], wants('sizes or a drawing')),
  fold: fields({
    amount: range(0, 1),
    own: v.record(v.string(), range(-180, 180, 'degrees'), wants('degrees by hinge')),
  }),
  arts: v.pipe(
    list(
      fields({
        panel: v.nullable(text('the name of a panel')),
        xMm: range(-3000, 3000, 'mm'),
        yMm: range(-3000, 3000, 'mm'),
      }),
    ),
    v.maxLength(20, 'expected at most 20 places of the art'),
  ),
})
