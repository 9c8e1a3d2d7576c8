import * as v from 'valibot'
import { jobFormat, jobVersion, mostVariants } from './job.ts'
import { mostPins } from './pins.ts'
import { art } from './schema/art.ts'
import { assets } from './schema/asset.ts'
import { boardFields } from './schema/board.ts'
import { carton } from './schema/carton.ts'
import { limits, madeWhite, marked, register, waivers } from './schema/checks.ts'
import { effectList, outlines, presets } from './schema/effect.ts'
import { printFields, readPart, spotList, whiteInkFields, whiteList } from './schema/ink.ts'
import { light } from './schema/light.ts'
import { paths } from './schema/path.ts'
import { seen } from './schema/seen.ts'
import { amount, role, target } from './schema/target.ts'
import { fields, list, maxLengthMm, range, text, wants } from './schema/value.ts'
import { view } from './schema/view.ts'

/** The fields of a job file, each with its range. */

const length = range(0.01, maxLengthMm, 'mm')

/** What a variant may have of its own. */
const changes = fields({
  effects: v.exactOptional(effectList),
  whites: v.exactOptional(whiteList),
  spots: v.exactOptional(spotList),
  board: v.exactOptional(boardFields),
  whiteInk: v.exactOptional(whiteInkFields),
  print: v.exactOptional(printFields),
})

export const jobSchema = fields({
  format: v.literal(jobFormat),
  version: v.literal(jobVersion),
  /** Null before there is any art. */
  art: v.nullable(art),
  carton: v.optional(v.nullable(carton), null),
  brief: v.optional(
    v.pipe(v.string(wants('a text')), v.maxLength(20_000, 'expected at most 20 000 characters')),
    '',
  ),
  sketch: v.optional(fields({ whitePart: readPart }), { whitePart: 0 }),
  panel: fields({ widthMm: length, heightMm: length, resolutionPpi: range(0.01, 10_000, 'ppi') }),
  roles: list(fields({ target, role, amount: v.nullable(amount) })),
  found: list(fields({ target, name: v.string(wants('a name')), role })),
  seen: v.exactOptional(seen),
  aliases: list(fields({ word: text('a word'), role })),
  effects: effectList,
  outlines: v.optional(outlines, []),
  presets: v.optional(presets, []),
  nestTurnDeg: v.optional(v.picklist([0, 90, 180, 270], wants('0, 90, 180 or 270 degrees')), 0),
  assets: v.optional(assets, []),
  whites: whiteList,
  madeWhite: v.optional(v.nullable(madeWhite), null),
  spots: v.optional(spotList, []),
  measured: list(fields({ key: text('the key of an assumed number'), note: v.string(wants('a note')) })),
  board: boardFields,
  whiteInk: whiteInkFields,
  print: printFields,
  light,
  view,
  limits: v.optional(limits, {}),
  waivers: v.optional(waivers, []),
  marked: v.optional(marked, []),
  register: v.optional(register, {}),
  variants: v.optional(
    v.pipe(
      list(fields({ name: text('a name'), changes })),
      v.maxLength(mostVariants, `expected at most ${mostVariants} variants`),
    ),
    [],
  ),
  variant: v.optional(
    v.nullable(
      v.pipe(
        v.number(wants('the index of a variant')),
        v.integer(wants('a whole number')),
        v.minValue(0, wants('an index from 0')),
      ),
    ),
    null,
  ),
  aside: v.optional(changes, {}),
  paths,
  pins: v.optional(
    v.pipe(
      list(
        fields({ name: text('a name'), xMm: range(0, maxLengthMm, 'mm'), yMm: range(0, maxLengthMm, 'mm') }),
      ),
      v.maxLength(mostPins, `expected at most ${mostPins} pins`),
      v.check(pins => new Set(pins.map(one => one.name)).size === pins.length, 'two pins have the same name'),
    ),
    [],
  ),
})
