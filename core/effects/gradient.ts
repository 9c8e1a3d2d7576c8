import type { EffectControl, EffectKind } from './effect.ts'
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

const endControl: EffectControl = {
  ...pitchControl,
  key: 'endPitchNm',
  label: 'Last pitch',
}
const rampControl: EffectControl = {
  key: 'rampDeg',
  label: 'Ramp direction',
  unit: 'deg',
  min: -180,
  max: 180,
  step: 1,
  says: 'From the beginning to the end: 0° is from left to right, 90° from below upwards.',
}
const repeatsControl: EffectControl = {
  key: 'repeats',
  label: 'Ramps, there and back',
  unit: '',
  min: 1,
  max: 50,
  step: 1,
}
const degree = Math.PI / 180

/** A pitch that changes evenly across the area. */
export const gradient: EffectKind = {
  name: 'gradient',
  title: 'Gradient',
  says: 'Several colours stand side by side as soft bands, and all of them move along the ramp as the carton tilts.',
  limits: limits(
    2,
    'Bands are seen where there is room for them: a motif narrower than a few millimetres shows one colour.',
  ),
  controls: [
    { ...pitchControl, label: 'First pitch' },
    endControl,
    rampControl,
    repeatsControl,
    azimuthControl,
    ...reliefControls,
    ...scatterControls,
  ],
  choices: [shapeChoice],
  defaults: {
    pitchNm: 800,
    endPitchNm: 1400,
    rampDeg: 0,
    repeats: 1,
    azimuthDeg: 90,
    ...reliefDefaults,
    ...scatterDefaults,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(gradient.name, parameters, gradient.defaults)
    const azimuth = reader.number(azimuthControl) * degree
    const ramp = reader.number(rampControl) * degree
    const repeats = reader.whole(repeatsControl)
    const { depth, share, groove } = reader.relief()
    const { spread, jitter } = reader.scatter()
    const from = reader.pitch('pitchNm', reader.get('pitchNm'), depth, spread)
    const to = reader.pitch('endPitchNm', reader.get('endPitchNm'), depth, spread)
    const [dx, dy] = [Math.cos(ramp), Math.sin(ramp)]
    const length = Math.abs(frame.widthMm * dx) + Math.abs(frame.heightMm * dy)
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      at: (x, y, _tone, out) => {
        const way = ((x - frame.centerXMm) * dx + (y - frame.centerYMm) * dy) / length + 0.5
        out.pitch = from + (to - from) * thereAndBack(repeats * Math.max(0, Math.min(1, way)))
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

/** 0 to 1 and back, over and over. */
function thereAndBack(way: number): number {
  const within = way % 2
  return within <= 1 ? within : 2 - within
}
