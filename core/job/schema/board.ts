import * as v from 'valibot'
import { lab } from './ink.ts'
import { fields, oneOf, range, text, wants } from './value.ts'

export const boardFields = fields({
  wavinessMrad: range(0, 100, 'mrad'),
  glossRoughness: range(0.001, 1),
  cellUm: v.strictTuple([range(1, 10_000, 'µm'), range(1, 10_000, 'µm')], wants('two numbers')),
  build: oneOf(['transfer', 'laminated']),
  readFrom: oneOf(['lacquer', 'film']),
  coatIndex: range(1.3, 2),
  tint: v.nullable(fields({ name: text('a name'), lab })),
  varnishRoughness: range(0.001, 1),
  varnishScatterMrad: range(0, 500, 'mrad'),
  microRoughnessNm: range(0, 60, 'nm'),
  hazeSpread: range(0.01, 1),
  caliperMm: range(0.05, 10, 'mm'),
})
