import { cellSpread, chosenPitches, pitchBetween, readPitches } from './cells.ts'
import { chance } from './chance.ts'
import type { EffectControl, EffectKind } from './effect.ts'
import { cellWarnings, designedLimits } from './limits.ts'
import { ParameterReader, reliefControls, reliefDefaults, seedControl, shapeChoice } from './parameters.ts'

const cellControl: EffectControl = {
  key: 'cellMm',
  label: 'Size of a spark',
  unit: 'mm',
  min: 0.03,
  max: 2,
  step: 0.01,
}
const fillControl: EffectControl = {
  key: 'fillPercent',
  label: 'Places that spark',
  unit: 'percent',
  min: 1,
  max: 60,
  step: 1,
  says: 'The rest stays a mirror.',
}

/** Sparse cells with a grating of their own; plain foil between. */
export const sparkle: EffectKind = {
  name: 'sparkle',
  title: 'Fine sparkle',
  says: 'Fine sparks come and go all over at the smallest movement, in every colour, on foil that stays a mirror between them.',
  limits: designedLimits(0.5, 'A motif needs many sparks across, or it looks dirty rather than sparkling.'),
  controls: [cellControl, fillControl, ...chosenPitches, seedControl, ...reliefControls],
  choices: [shapeChoice],
  defaults: {
    cellMm: 0.15,
    fillPercent: 25,
    finestNm: 700,
    widestNm: 1600,
    seed: 1,
    ...reliefDefaults,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(sparkle.name, parameters, sparkle.defaults)
    const cell = reader.number(cellControl)
    const fill = reader.number(fillControl) / 100
    const seed = reader.whole(seedControl)
    const range = readPitches(reader)
    const { depth, share, groove } = reader.relief()
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings: cellWarnings('sparks', cell, frame.pixelMm),
      at: (x, y, _tone, out) => {
        const column = Math.floor(x / cell)
        const row = Math.floor(y / cell)
        out.pitch = pitchBetween(range, chance(column, row, seed, 1))
        out.azimuth = 2 * Math.PI * chance(column, row, seed, 2)
        out.grooveDepth = depth
        out.share = chance(column, row, seed, 0) < fill ? share : 0
        out.spread = out.jitter = cellSpread(cell, out.pitch)
        return out
      },
    }
  },
}
