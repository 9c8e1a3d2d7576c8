import type { EffectChoice, EffectControl, EffectKind } from './effect.ts'
import { designedLimits } from './limits.ts'
import {
  centerControls,
  ParameterReader,
  pitchRange,
  reliefControls,
  reliefDefaults,
  shapeChoice,
} from './parameters.ts'
import { designWavelengthControl } from './view-parameters.ts'

const focalControl: EffectControl = {
  key: 'focalMm',
  label: 'Focal length',
  unit: 'mm',
  min: 1,
  max: 2000,
  step: 1,
}
const formChoice: EffectChoice = {
  key: 'form',
  label: 'It looks like',
  options: [
    { value: 'dome', label: 'A dome' },
    { value: 'bowl', label: 'A bowl' },
  ],
}

/** Pitches that a lens or relief keeps to; between them the model is checked. */
export const gradedControls: readonly EffectControl[] = [
  { key: 'finestNm', label: 'Finest pitch', unit: 'nm', min: pitchRange[0], max: pitchRange[1], step: 10 },
  { key: 'widestNm', label: 'Widest pitch', unit: 'nm', min: pitchRange[0], max: pitchRange[1], step: 10 },
]
export const gradedDefaults = { finestNm: 667, widestNm: 5000 } as const

/** Rings that grow finer outwards, d = λ f / r. */
export const lens: EffectKind = {
  name: 'lens',
  title: 'Lens or dome',
  says: 'A highlight floats over rings that grow finer outwards and slides as the carton tilts, as on a dome or in a bowl. With blazed grooves only one highlight is seen; others show its mirror image as well. The middle, where the rings would be wider than the widest pitch, stays plain.',
  controls: [focalControl, designWavelengthControl, ...gradedControls, ...centerControls, ...reliefControls],
  limits: designedLimits(
    3,
    'A dome needs room for its highlight to travel; beyond the finest pitch it goes on level.',
  ),
  choices: [formChoice, shapeChoice],
  defaults: {
    form: 'dome',
    focalMm: 30,
    wavelengthNm: 550,
    offsetXMm: 0,
    offsetYMm: 0,
    ...gradedDefaults,
    ...reliefDefaults,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(lens.name, parameters, lens.defaults)
    const sign = reader.choice('form', ['dome', 'bowl']) === 'dome' ? 1 : -1
    const focal = reader.number(focalControl)
    const λ = reader.number(designWavelengthControl)
    const { finest, widest } = readGraded(reader)
    const [offsetX, offsetY] = centerControls.map(control => reader.number(control)) as [number, number]
    const { depth, share, groove } = reader.relief()
    const centerX = frame.centerXMm + offsetX
    const centerY = frame.centerYMm + offsetY
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      at: (x, y, _tone, out) => {
        const [fromX, fromY] = [sign * (x - centerX), sign * (y - centerY)]
        const pitch = (λ * focal) / Math.hypot(fromX, fromY)
        out.pitch = Math.max(finest, Math.min(widest, pitch))
        out.azimuth = Math.atan2(fromY, fromX)
        out.grooveDepth = depth
        out.share = pitch > widest ? 0 : share
        return out
      },
    }
  },
}

export function readGraded(reader: ParameterReader): { readonly finest: number; readonly widest: number } {
  const { depth } = reader.relief()
  const [finest, widest] = gradedControls.map(({ key }) => reader.pitch(key, reader.get(key), depth, 0)) as [
    number,
    number,
  ]
  if (finest > widest)
    reader.refuse(
      'finestNm',
      `is wider than the widest pitch: ${finest} and ${widest} nm`,
      'Change one of them.',
    )
  return { finest, widest }
}
