import type { EffectControl, EffectKind, GratingField } from './effect.ts'
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

const crossControl: EffectControl = {
  key: 'crossDeg',
  label: 'Angle between',
  unit: 'deg',
  min: 15,
  max: 90,
  step: 1,
  says: 'At 90° the rainbow runs on both axes of tilt.',
}
const degree = Math.PI / 180

/** Two plain gratings in cells side by side, half the area each. */
export const crossed: EffectKind = {
  name: 'crossed',
  title: 'Rainbow on two axes',
  says: 'The area runs through the rainbow on both axes of tilt, about half as bright as a plain rainbow on one: each of two gratings has half of the surface.',
  limits: limits(0.2, 'Two gratings take two of the four that a place can hold.'),
  controls: [pitchControl, azimuthControl, crossControl, ...reliefControls, ...scatterControls],
  choices: [shapeChoice],
  defaults: { pitchNm: 1000, azimuthDeg: 90, crossDeg: 90, ...reliefDefaults, ...scatterDefaults },
  prepare(parameters) {
    const reader = new ParameterReader(crossed.name, parameters, crossed.defaults)
    const first = reader.number(azimuthControl) * degree
    const cross = reader.number(crossControl) * degree
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
    const pitch = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    const part = (azimuth: number): GratingField => ({
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      at: (_x, _y, _tone, out) => {
        out.pitch = pitch
        out.azimuth = azimuth
        out.grooveDepth = depth
        out.share = share / 2
        out.spread = spread
        out.jitter = jitter
        return out
      },
    })
    return { kind: 'beside', groove, maskLayerId: null, parts: [part(first), part(first + cross)] }
  },
}
