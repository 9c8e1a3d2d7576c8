import * as v from 'valibot'
import { mostLamps } from '../../reference/scene.ts'
import { eases } from '../job.ts'
import { eye, lamp, pose } from './light.ts'
import { fields, flag, list, oneOf, range, text, tooMany } from './value.ts'

const path = fields({
  name: text('a name'),
  loop: flag,
  keys: v.pipe(
    list(
      fields({
        timeS: range(0, 86_400, 's'),
        lamp,
        pose,
        others: v.optional(
          v.pipe(
            list(v.nullable(lamp)),
            v.maxLength(mostLamps - 1, issue => tooMany(mostLamps - 1, 'lamps beside the first', issue)),
          ),
          [],
        ),
        eye: v.optional(v.nullable(eye), null),
        ease: v.optional(oneOf(eases), 'flow'),
      }),
    ),
    v.nonEmpty('expected at least one key, got none'),
    v.check(keys => keys[0]?.timeS === 0, 'expected the first key at 0 s'),
    v.check(
      keys => keys.every((key, i) => i === 0 || key.timeS > keys[i - 1]!.timeS),
      'expected times that rise from key to key',
    ),
  ),
})

export const paths = v.pipe(
  list(path),
  v.check(paths => new Set(paths.map(one => one.name)).size === paths.length, 'two paths have the same name'),
)
