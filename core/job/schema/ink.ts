import * as v from 'valibot'
import { target } from './target.ts'
import { fields, flag, list, oneOf, part, range, sha256, text, wants } from './value.ts'

/** What lies on the board: whites, inks, and how they were measured. */

/** How often a plate prints. */
export const hits = v.pipe(range(1, 9), v.integer(wants('a whole number')))

/** Opacity or reflectance as a part; 0 is nothing, 1 is perfect. */
export const readPart = part()
const contrast = readPart
const opacity = v.variant(
  'from',
  [
    fields({ from: v.literal('contrast'), value: contrast }),
    fields({ from: v.literal('overBlack'), value: contrast }),
    fields({
      from: v.literal('wedge'),
      patches: v.pipe(list(fields({ hits, contrast })), v.nonEmpty('expected at least one patch, got none')),
    }),
  ],
  wants('contrast, overBlack or wedge'),
)

export const lab = v.strictTuple([range(0, 100), range(-128, 128), range(-128, 128)], wants('L*, a*, b*'))
/** A spectrum that an instrument gives for a print: 400–700 nm at least. */
const inkSpectrum = v.pipe(
  fields({
    startNm: range(300, 400, 'nm'),
    stepNm: range(1, 20, 'nm'),
    values: v.pipe(
      list(range(0, 2)),
      v.minLength(31, 'expected 31 values or more'),
      v.maxLength(401, 'expected 401 values or fewer'),
    ),
  }),
  v.check(
    one => one.startNm + one.stepNm * (one.values.length - 1) >= 700,
    'expected a spectrum that reaches 700 nm',
  ),
)
const gain = range(0, 0.35)

export const whiteList = list(
  fields({
    target,
    opacity,
    hits,
    mottle: range(0, 1),
    screen: v.optional(oneOf(['dots', 'even']), 'dots'),
    toneGain: v.optional(gain, 0),
  }),
)

export const whiteInkFields = fields({ forwardness: range(0, 0.95) })

export const printFields = fields({
  profile: v.nullable(fields({ path: text('the path of a profile'), sha256 })),
  intent: oneOf(['perceptual', 'relative', 'saturation', 'absolute']),
  blackPoint: flag,
  toneGain: v.strictTuple([gain, gain, gain, gain], wants('four numbers')),
})

export const spotList = list(fields({ target, lab: v.nullable(lab), spectrum: v.nullable(inkSpectrum) }))
