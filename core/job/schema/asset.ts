import * as v from 'valibot'
import { turningRanges } from '../../effects/object/turn.ts'
import { fields, list, range, sha256, text, wants } from './value.ts'

/** A job of a stranger must not make us read for ever. */
const mostFiles = 1000
const assetFiles = v.pipe(
  list(fields({ path: text('the path of a file'), sha256 })),
  v.nonEmpty('expected at least one file, got none'),
  v.maxLength(mostFiles, `expected at most ${mostFiles} files`),
)
const turning = fields({
  views: v.pipe(range(...turningRanges.views), v.integer(wants('a whole number'))),
  fanDeg: range(...turningRanges.fanDeg, 'degrees'),
  elevationDeg: range(...turningRanges.elevationDeg, 'degrees'),
  turnDeg: range(...turningRanges.turnDeg, 'degrees'),
  eyeLengths: v.nullable(range(...turningRanges.eyeLengths, 'lengths of the object')),
})
const assetId = text('an id')
const asset = v.variant(
  'kind',
  [
    fields({ kind: v.literal('views'), id: assetId, files: assetFiles }),
    fields({ kind: v.literal('model'), id: assetId, files: assetFiles, turning }),
    fields({ kind: v.literal('heights'), id: assetId, files: assetFiles }),
  ],
  wants('views, a model or heights'),
)

export const assets = v.pipe(
  list(asset),
  v.maxLength(64, 'expected at most 64 assets'),
  v.check(all => new Set(all.map(one => one.id)).size === all.length, 'two assets have the same id'),
)
