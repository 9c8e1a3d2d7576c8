import * as v from 'valibot'
import { lineKinds } from '../carton/die.ts'
import { type SettingKey, settingKeys, settings } from '../carton/settings.ts'
import { measures } from '../carton/spec.ts'
import { lastWavelength } from '../color/spectrum.ts'
import { turningRanges } from '../effects/object/turn.ts'
import { furthestPoint, mostOutlines, mostPoints, mostRings } from '../effects/outline.ts'
import { registerRanges } from '../effects/register.ts'
import { illuminantNames } from '../optics/scene.ts'
import { filmLimits } from '../reference/overlay.ts'
import { mostLamps } from '../reference/scene.ts'
import { roleNames } from '../roles/role.ts'
import { eases, jobFormat, jobVersion, mostVariants } from './job.ts'
import { mostPins } from './pins.ts'

/** The fields of a job file, each with its range. Messages read "expected …, got …". */

const got = (input: unknown): string => {
  if (typeof input === 'string') return JSON.stringify(input.length > 40 ? `${input.slice(0, 40)}…` : input)
  if (typeof input === 'number' || typeof input === 'boolean' || input === null) return String(input)
  if (input === undefined) return 'nothing'
  return Array.isArray(input) ? 'a list' : 'an object'
}
export const wants = (what: string) => (issue: { readonly input: unknown }) =>
  `expected ${what}, got ${got(issue.input)}`

/** A number in [min, max]. */
export function range(min: number, max: number, unit = '') {
  const says = wants(`a number from ${min} to ${max}${unit && ` ${unit}`}`)
  return v.pipe(v.number(says), v.minValue(min, says), v.maxValue(max, says))
}

function part() {
  const says = wants('a part from 0 to 1 (60 % is 0.6)')
  return v.pipe(v.number(says), v.minValue(0, says), v.maxValue(1, says))
}

function text(what: string) {
  return v.pipe(v.string(wants(what)), v.nonEmpty(wants(what)))
}

function list<T extends v.GenericSchema>(item: T) {
  return v.array(item, wants('a list'))
}

export function fields<T extends v.ObjectEntries>(entries: T) {
  return v.strictObject(entries, issue =>
    issue.expected === 'never' ? 'is a field this version does not know' : wants('an object')(issue),
  )
}

export function oneOf<const T extends readonly string[]>(names: T) {
  return v.picklist(names, wants(`one of ${names.join(', ')}`))
}

/** How often a plate prints. */
export const hits = v.pipe(range(1, 9), v.integer(wants('a whole number')))
const flag = v.boolean(wants('true or false'))
const role = oneOf(roleNames)
const target = fields({ kind: oneOf(['layer', 'channel']), id: text('the id of a layer or channel') })

const amount = v.variant(
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

/** Largest length of a panel, mm: 300 000 px at 10 ppi. */
const maxLengthMm = 762_000
const length = range(0.01, maxLengthMm, 'mm')

const lamp = fields({
  azimuthDeg: range(-3600, 3600, 'degrees'),
  elevationDeg: range(0.1, 90, 'degrees above the table'),
  distanceMm: range(1, 100_000, 'mm'),
  diameterMm: range(0.01, 10_000, 'mm'),
})

const pose = fields({
  tiltForwardDeg: range(-90, 90, 'degrees'),
  tiltSideDeg: range(-90, 90, 'degrees'),
  turnDeg: range(-3600, 3600, 'degrees'),
})

const eye = fields({
  distanceMm: range(10, 100_000, 'mm'),
  sideDeg: range(-80, 80, 'degrees'),
  riseDeg: range(-80, 80, 'degrees'),
})

const lampSpectrum = v.pipe(
  fields({
    startNm: range(200, 380, 'nm, so that the visible is covered'),
    stepNm: range(0.1, 20, 'nm'),
    values: v.pipe(
      list(range(0, 1e12)),
      v.minLength(21, 'expected at least 21 values'),
      v.maxLength(8001, 'expected at most 8001 values'),
    ),
  }),
  v.check(
    ({ startNm, stepNm, values }) => startNm + stepNm * (values.length - 1) >= lastWavelength,
    `expected values up to ${lastWavelength} nm`,
  ),
  v.check(({ values }) => values.some(value => value > 0), 'expected some light, got a spectrum of zeros'),
)

const lampInScene = fields({
  name: text('a name'),
  pose: lamp,
  form: v.variant(
    'kind',
    [
      fields({ kind: v.literal('disc') }),
      fields({
        kind: v.literal('rectangle'),
        widthMm: range(0.01, 10_000, 'mm'),
        heightMm: range(0.01, 10_000, 'mm'),
        rollDeg: range(-360, 360, 'degrees'),
      }),
    ],
    wants('a disc or a rectangle'),
  ),
  illuminant: oneOf(illuminantNames),
  spectrum: v.nullable(lampSpectrum),
  lux: range(0, 1_000_000, 'lx'),
})

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

const lab = v.strictTuple([range(0, 100), range(-128, 128), range(-128, 128)], wants('L*, a*, b*'))
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
const sha256 = v.pipe(
  v.string(wants('64 hexadecimal digits')),
  v.regex(/^[0-9a-f]{64}$/, wants('64 hexadecimal digits')),
)
const gain = range(0, 0.35)

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
            v.maxLength(mostLamps - 1, `expected at most ${mostLamps - 1} lamps beside the first`),
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
const effectTarget = fields({
  kind: oneOf(['layer', 'channel', 'outline']),
  id: text('the id of a layer, channel or outline'),
})
const effectList = list(fields({ target: effectTarget, effect }))

const coordinate = range(-furthestPoint, furthestPoint, 'mm')
const ring = v.pipe(
  list(v.strictTuple([coordinate, coordinate], wants('two numbers'))),
  v.maxLength(mostPoints, `expected at most ${mostPoints} points`),
)
const outline = fields({
  id: text('an id'),
  name: text('a name'),
  rings: v.pipe(list(ring), v.maxLength(mostRings, `expected at most ${mostRings} rings`)),
})
const outlines = v.pipe(
  list(outline),
  v.maxLength(mostOutlines, `expected at most ${mostOutlines} outlines`),
  v.check(all => new Set(all.map(one => one.id)).size === all.length, 'two outlines have the same id'),
)
const presets = v.pipe(
  list(fields({ name: text('a name'), effect })),
  v.check(all => new Set(all.map(one => one.name)).size === all.length, 'two presets have the same name'),
)

const whiteList = list(
  fields({
    target,
    opacity,
    hits,
    mottle: range(0, 1),
    screen: v.optional(oneOf(['dots', 'even']), 'dots'),
    toneGain: v.optional(gain, 0),
  }),
)

const boardFields = fields({
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

const whiteInkFields = fields({ forwardness: range(0, 0.95) })

const printFields = fields({
  profile: v.nullable(fields({ path: text('the path of a profile'), sha256 })),
  intent: oneOf(['perceptual', 'relative', 'saturation', 'absolute']),
  blackPoint: flag,
  toneGain: v.strictTuple([gain, gain, gain, gain], wants('four numbers')),
})

const spotList = list(fields({ target, lab: v.nullable(lab), spectrum: v.nullable(inkSpectrum) }))

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
const carton = fields({
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
  art: v.nullable(fields({ path: text('the path of the art'), sha256 })),
  carton: v.optional(v.nullable(carton), null),
  brief: v.optional(
    v.pipe(v.string(wants('a text')), v.maxLength(20_000, 'expected at most 20 000 characters')),
    '',
  ),
  sketch: v.optional(fields({ whitePart: readPart }), { whitePart: 0 }),
  panel: fields({ widthMm: length, heightMm: length, resolutionPpi: range(0.01, 10_000, 'ppi') }),
  roles: list(fields({ target, role, amount: v.nullable(amount) })),
  found: list(fields({ target, name: v.string(wants('a name')), role })),
  aliases: list(fields({ word: text('a word'), role })),
  effects: effectList,
  outlines: v.optional(outlines, []),
  presets: v.optional(presets, []),
  nestTurnDeg: v.optional(v.picklist([0, 90, 180, 270], wants('0, 90, 180 or 270 degrees')), 0),
  assets: v.optional(
    v.pipe(
      list(asset),
      v.maxLength(64, 'expected at most 64 assets'),
      v.check(all => new Set(all.map(one => one.id)).size === all.length, 'two assets have the same id'),
    ),
    [],
  ),
  whites: whiteList,
  spots: v.optional(spotList, []),
  measured: list(fields({ key: text('the key of an assumed number'), note: v.string(wants('a note')) })),
  board: boardFields,
  whiteInk: whiteInkFields,
  print: printFields,
  light: v.pipe(
    fields({
      lamps: v.pipe(
        v.tupleWithRest([lampInScene], lampInScene, wants('a list of lamps')),
        v.maxLength(mostLamps, `expected at most ${mostLamps} lamps`),
      ),
      roomLevel: range(0, 100),
    }),
    v.check(light => light.lamps.some(one => one.lux > 0), 'expected at least one lamp above 0 lx'),
  ),
  view: fields({
    pose,
    eyeDistanceMm: range(10, 100_000, 'mm'),
    exposureStops: range(-20, 20, 'stops'),
    anchorLux: v.nullable(range(0.01, 1_000_000, 'lx')),
    adapt: flag,
    gamut: oneOf(['srgb', 'display-p3']),
    displayWhite: oneOf(['D65', 'D50']),
    overlay: v.exactOptional(overlay),
  }),
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
  paths: v.pipe(
    list(path),
    v.check(
      paths => new Set(paths.map(one => one.name)).size === paths.length,
      'two paths have the same name',
    ),
  ),
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
