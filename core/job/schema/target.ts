import * as v from 'valibot'
import { roleNames } from '../../roles/role.ts'
import { fields, oneOf, text, wants } from './value.ts'

export const role = oneOf(roleNames)
export const target = fields({ kind: oneOf(['layer', 'channel']), id: text('the id of a layer or channel') })

export const amount = v.variant(
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
