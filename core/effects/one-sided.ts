import type { EffectKind } from './effect.ts'
import { limits } from './limits.ts'
import {
  azimuthControl,
  ParameterReader,
  pitchControl,
  reliefControls,
  reliefDefaults,
  scatterControls,
  scatterDefaults,
  shapeChoice,
} from './parameters.ts'

const degree = Math.PI / 180
/** Shapes whose two flanks differ. */
const uneven: readonly string[] = ['blazed', 'sampled']

/** A saw-tooth grating: its light goes to one side. */
export const oneSided: EffectKind = {
  name: 'one-sided',
  title: 'One-sided rainbow',
  says: 'Bright, with nearly all its light on one side; turned by half a turn in the panel’s plane the same area is dark. Two such areas back to back take turns.',
  limits: limits(
    0.2,
    'A saw-tooth wears to a softer shape on the press; brightness then falls and the other side wakes.',
  ),
  controls: [
    pitchControl,
    {
      ...azimuthControl,
      label: 'Facing direction',
      says: 'The side on which it is bright. Half a turn more is the opposite side.',
    },
    ...reliefControls,
    ...scatterControls,
  ],
  choices: [{ ...shapeChoice, options: shapeChoice.options.filter(option => uneven.includes(option.value)) }],
  defaults: {
    pitchNm: 1000,
    azimuthDeg: 90,
    ...reliefDefaults,
    shape: 'blazed',
    grooveDepthNm: 150,
    ...scatterDefaults,
  },
  prepare(parameters) {
    const reader = new ParameterReader(oneSided.name, parameters, oneSided.defaults)
    const azimuth = reader.number(azimuthControl) * degree
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
    const pitch = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    const even = {
      code: 'groove-even',
      message: 'grooves of this shape send light to both sides alike',
      fix: 'Choose blazed grooves.',
    }
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings: uneven.includes(groove.shape) ? [] : [even],
      at: (_x, _y, _tone, out) => {
        out.pitch = pitch
        out.azimuth = azimuth
        out.grooveDepth = depth
        out.share = share
        out.spread = spread
        out.jitter = jitter
        return out
      },
    }
  },
}
