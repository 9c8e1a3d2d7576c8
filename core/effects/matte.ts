import type { EffectControl, EffectKind } from './effect.ts'
import { limits } from './limits.ts'
import {
  azimuthControl,
  coarsestScattered,
  ParameterReader,
  reliefControls,
  reliefDefaults,
  shapeChoice,
} from './parameters.ts'

const pitchControl: EffectControl = {
  key: 'pitchNm',
  label: 'Mean pitch',
  unit: 'nm',
  min: 700,
  max: coarsestScattered,
  step: 10,
  says: 'Coarser: the glow lies nearer to the mirror direction and is brighter.',
}
const scatter: readonly [EffectControl, EffectControl] = [
  {
    key: 'spreadPercent',
    label: 'Pitch scatter',
    unit: 'percent',
    min: 25,
    max: 50,
    step: 1,
    says: 'Standard deviation. From 25 % on the colours of neighbouring places mix to grey.',
  },
  {
    key: 'jitterDeg',
    label: 'Direction scatter',
    unit: 'deg',
    min: 5,
    max: 40,
    step: 1,
    says: 'Standard deviation. The area glows over a wider turn, less bright.',
  },
]
const degree = Math.PI / 180

/** A grating that strays so far that no colour is left. */
export const matte: EffectKind = {
  name: 'matte',
  title: 'Colourless matte',
  says: 'A silvery grey glow without colour over a wide range of angles: bright over half a tilt where a rainbow would run, soft at its ends.',
  limits: limits(0.1, 'Its grey comes of many pitches side by side within a tenth of a millimetre.'),
  controls: [pitchControl, azimuthControl, ...scatter, ...reliefControls],
  choices: [shapeChoice],
  defaults: { pitchNm: 1600, azimuthDeg: 90, spreadPercent: 40, jitterDeg: 25, ...reliefDefaults },
  prepare(parameters) {
    const reader = new ParameterReader(matte.name, parameters, matte.defaults)
    const azimuth = reader.number(azimuthControl) * degree
    const { depth, share, groove } = reader.relief()
    const spread = reader.number(scatter[0]) / 100
    const jitter = reader.number(scatter[1]) * degree
    reader.number(pitchControl)
    const pitch = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
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
