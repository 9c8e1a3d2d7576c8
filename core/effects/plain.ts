import type { EffectKind } from './effect.ts'
import { finestLine, limits } from './limits.ts'
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

/** One grating all over. */
export const plain: EffectKind = {
  name: 'plain',
  title: 'Plain rainbow',
  says: 'The whole area runs through the rainbow when the carton tilts along the direction, and is dark on the other axis.',
  controls: [pitchControl, azimuthControl, ...reliefControls, ...scatterControls],
  limits: limits(finestLine, 'Bands that tilt moves across it need an area of some millimetres.'),
  choices: [shapeChoice],
  defaults: { pitchNm: 1000, azimuthDeg: 90, ...reliefDefaults, ...scatterDefaults },
  prepare(parameters) {
    const reader = new ParameterReader(plain.name, parameters, plain.defaults)
    const azimuth = reader.number(azimuthControl) * degree
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
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
