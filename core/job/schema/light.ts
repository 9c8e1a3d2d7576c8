import * as v from 'valibot'
import { lastWavelength } from '../../color/spectrum.ts'
import { illuminantNames } from '../../optics/scene.ts'
import { mostLamps } from '../../reference/scene.ts'
import { fields, list, oneOf, range, text, tooMany, wants } from './value.ts'

export const lamp = fields({
  azimuthDeg: range(-3600, 3600, 'degrees'),
  elevationDeg: range(0.1, 90, 'degrees above the table'),
  distanceMm: range(1, 100_000, 'mm'),
  diameterMm: range(0.01, 10_000, 'mm'),
})

export const pose = fields({
  tiltForwardDeg: range(-90, 90, 'degrees'),
  tiltSideDeg: range(-90, 90, 'degrees'),
  turnDeg: range(-3600, 3600, 'degrees'),
})

export const eye = fields({
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

export const light = v.pipe(
  fields({
    lamps: v.pipe(
      v.tupleWithRest([lampInScene], lampInScene, wants('a list of lamps')),
      v.maxLength(
        mostLamps,
        issue => `${tooMany(mostLamps, 'lamps', issue)}; one broad lamp can stand for several side by side`,
      ),
    ),
    roomLevel: range(0, 100),
  }),
  v.check(light => light.lamps.some(one => one.lux > 0), 'expected at least one lamp above 0 lx'),
)
