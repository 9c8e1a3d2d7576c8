import type { EffectChoice, EffectKind } from './effect.ts'
import { designedLimits } from './limits.ts'
import { ParameterReader } from './parameters.ts'
import type { PlaceMm } from './picture.ts'
import { around, type Raster, shining } from './picture.ts'
import { readLayerId, readPictureViews, viewChoices, viewControls, viewDefaults } from './view-parameters.ts'

const codingChoice: EffectChoice = {
  key: 'coding',
  label: 'The pictures differ in',
  options: [
    { value: 'turn', label: 'Direction: turn the carton' },
    { value: 'tilt', label: 'Pitch: tilt the carton' },
  ],
}

/** Two pictures in one place. */
export const twoImages: EffectKind = {
  name: 'switch',
  title: 'Two-image switch',
  says: 'One picture gives way to another as the carton turns or tilts. By direction they fade into each other in one colour; by pitch each runs through the rainbow before the other comes.',
  controls: viewControls,
  limits: designedLimits(0.4, 'Each picture has half of the surface. One such set to a place.'),
  choices: [codingChoice, ...viewChoices],
  defaults: { coding: 'turn', secondLayerId: null, ...viewDefaults, fanDeg: 10 },
  prepare(parameters, frame) {
    const reader = new ParameterReader(twoImages.name, parameters, twoImages.defaults)
    const coding = reader.choice('coding', ['turn', 'tilt'])
    const { design, warnings, depth, share, groove, reading, maskLayerId } = readPictureViews(
      reader,
      frame,
      2,
      coding,
    )
    const second = readLayerId(reader, 'secondLayerId')
    const missing = {
      code: 'one-image',
      message: 'the switch has only one picture',
      fix: 'Choose the layer of the other picture.',
    }
    return {
      kind: 'pictures',
      groove,
      maskLayerId,
      wants: second === null ? [{ from: 'own' }] : [{ from: 'own' }, { from: 'layer', id: second }],
      warnings: second === null ? [...warnings, missing] : warnings,
      open: pictures => ({
        kind: 'views',
        groove,
        design,
        grooveDepth: depth,
        share,
        within: 'all',
        maskLayerId,
        ...inTurn(pictures.map(picture => shining(picture, reading))),
      }),
    }
  },
}

/** Pictures as they lie, one a view. */
export function inTurn(pictures: readonly Raster[]): {
  readonly place: PlaceMm | null
  readonly at: (xMm: number, yMm: number, out: Float64Array) => Float64Array
} {
  return {
    place: around(pictures.map(one => one.place)),
    at: (x, y, out) => {
      for (let i = 0; i < out.length; i++) out[i] = pictures[i]?.at(x, y) ?? 0
      return out
    },
  }
}
