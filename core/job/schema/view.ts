import * as v from 'valibot'
import { filmLimits } from '../../reference/overlay.ts'
import { pose } from './light.ts'
import { fields, flag, oneOf, range, wants } from './value.ts'

const registerMm = range(...filmLimits.registerMm, 'mm')
/** How the leaves lie; a job without it is as printed. */
const overlay = fields({
  lift: range(0, 1),
  shown: fields({ board: flag, white: flag, overprint: flag }),
  laid: oneOf(['print', 'film']),
  film: fields({
    thicknessMm: range(...filmLimits.thicknessMm, 'mm'),
    index: range(...filmLimits.index),
    roughness: range(...filmLimits.roughness),
    gapMm: range(...filmLimits.gapMm, 'mm'),
    registerMm: v.strictTuple([registerMm, registerMm], wants('two numbers')),
  }),
})

export const view = fields({
  pose,
  eyeDistanceMm: range(10, 100_000, 'mm'),
  exposureStops: range(-20, 20, 'stops'),
  anchorLux: v.nullable(range(0.01, 1_000_000, 'lx')),
  adapt: flag,
  gamut: oneOf(['srgb', 'display-p3']),
  displayWhite: oneOf(['D65', 'D50']),
  overlay: v.exactOptional(overlay),
})
