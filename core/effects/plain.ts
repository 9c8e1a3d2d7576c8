import type { EffectKind } from './effect.ts'
import {
  azimuthControl,
  ParameterReader,
  pitchControl,
  reliefControls,
  reliefDefaults,
  shapeChoice,
} from './parameters.ts'

const degree = Math.PI / 180

/** One grating all over. */
export const plain: EffectKind = {
  name: 'plain',
  title: 'Plain rainbow',
  says: 'The whole area runs through the rainbow when the carton tilts along the direction, and is dark on the other axis.',
  controls: [pitchControl, azimuthControl, ...reliefControls],
  choices: [shapeChoice],
  defaults: { pitchNm: 1000, azimuthDeg: 90, ...reliefDefaults },
  prepare(parameters) {
    const reader = new ParameterReader(plain.name, parameters, plain.defaults)
    const pitch = reader.number(pitchControl)
    const azimuth = reader.number(azimuthControl) * degree
    const { depth, share, groove } = reader.relief()
    return {
      groove,
      readsArt: false,
      maskLayerId: null,
      at: (_x, _y, _tone, out) => {
        out.pitch = pitch
        out.azimuth = azimuth
        out.grooveDepth = depth
        out.share = share
        return out
      },
    }
  },
}
