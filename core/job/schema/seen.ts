import * as v from 'valibot'
import { target } from './target.ts'
import { fields, list, maxLengthMm, oneOf, range, wants } from './value.ts'

/** Places may lie beside the art. */
const place = range(-maxLengthMm, maxLengthMm, 'mm')
const length = range(0, maxLengthMm, 'mm')

const ink = fields({
  space: oneOf(['RGB', 'CMYK', 'Lab', 'Gray', 'HSB', 'other']),
  values: list(v.number(wants('a number'))),
})

/** Art as it lay when it met the job. */
export const seen = fields({
  widthMm: length,
  heightMm: length,
  pixelMm: length,
  parts: list(
    fields({
      target,
      name: v.string(wants('a name')),
      boxMm: v.nullable(
        v.strictTuple([place, place, place, place], wants('left, bottom, right and top in mm')),
      ),
      ink: v.nullable(ink),
      ofLayers: v.exactOptional(v.literal(true)),
    }),
  ),
})
