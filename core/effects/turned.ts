import type { EffectFrame, EffectKind } from './effect.ts'
import {
  centerControls,
  ParameterReader,
  type Parameters,
  pitchControl,
  reliefControls,
  reliefDefaults,
  scatterControls,
  scatterDefaults,
  shapeChoice,
} from './parameters.ts'

/**
 * A kind whose direction follows the line from a centre: along it plus `turn` radians. At the centre itself the line
 * is taken to point right.
 */
export function turnedKind(
  words: Pick<EffectKind, 'name' | 'title' | 'says' | 'limits'>,
  turn: number,
): EffectKind {
  const defaults: Parameters = {
    pitchNm: 1000,
    offsetXMm: 0,
    offsetYMm: 0,
    ...reliefDefaults,
    ...scatterDefaults,
  }
  return {
    ...words,
    controls: [pitchControl, ...centerControls, ...reliefControls, ...scatterControls],
    choices: [shapeChoice],
    defaults,
    prepare(parameters: Parameters, frame: EffectFrame) {
      const reader = new ParameterReader(words.name, parameters, defaults)
      const [offsetX, offsetY] = centerControls.map(control => reader.number(control)) as [number, number]
      const { depth, share, groove } = reader.relief()
      const { spread, jitter } = reader.scatter()
      const pitch = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
      const centerX = frame.centerXMm + offsetX
      const centerY = frame.centerYMm + offsetY
      return {
        kind: 'grating',
        groove,
        readsArt: false,
        maskLayerId: null,
        at: (x, y, _tone, out) => {
          out.pitch = pitch
          out.azimuth = Math.atan2(y - centerY, x - centerX) + turn
          out.grooveDepth = depth
          out.share = share
          out.spread = spread
          out.jitter = jitter
          return out
        },
      }
    },
  }
}
