import { cellSpread, chosenPitches, pitchBetween, readPitches } from './cells.ts'
import { chance } from './chance.ts'
import type { EffectControl, EffectKind } from './effect.ts'
import { cellWarnings, designedLimits } from './limits.ts'
import { ParameterReader, reliefControls, reliefDefaults, seedControl, shapeChoice } from './parameters.ts'

const cellControl: EffectControl = {
  key: 'cellMm',
  label: 'Side of a cell',
  unit: 'mm',
  min: 0.02,
  max: 10,
  step: 0.01,
  says: 'Small cells twinkle as a shimmer, large ones as tiles. Below 0.05 mm a cell’s own diffraction widens its flash.',
}
const directionsControl: EffectControl = {
  key: 'directions',
  label: 'Directions',
  unit: '',
  min: 2,
  max: 36,
  step: 1,
  says: 'Evenly over half a turn. More of them: at every angle fewer cells flash, and more of the angles have some.',
}
const pitchesControl: EffectControl = {
  key: 'pitches',
  label: 'Pitches',
  unit: '',
  min: 1,
  max: 8,
  step: 1,
  says: 'Evenly from the finest to the widest: the colours that cells show at the same moment.',
}

/** Square cells, each a plain grating of one of a few directions and pitches. */
export const mosaic: EffectKind = {
  name: 'mosaic',
  title: 'Mosaic of cells',
  says: 'Square cells flash one after another in several colours as the carton moves: a twinkling mosaic.',
  limits: designedLimits(
    0.2,
    'A motif needs several cells across. Cells finer than the map are shown as their mean.',
  ),
  controls: [
    cellControl,
    directionsControl,
    pitchesControl,
    ...chosenPitches,
    seedControl,
    ...reliefControls,
  ],
  choices: [shapeChoice],
  defaults: {
    cellMm: 0.4,
    directions: 15,
    pitches: 3,
    finestNm: 800,
    widestNm: 1200,
    seed: 1,
    ...reliefDefaults,
    sharePercent: 80,
  },
  prepare(parameters, frame) {
    const reader = new ParameterReader(mosaic.name, parameters, mosaic.defaults)
    const cell = reader.number(cellControl)
    const directions = reader.whole(directionsControl)
    const pitches = reader.whole(pitchesControl)
    const seed = reader.whole(seedControl)
    const range = readPitches(reader)
    const { depth, share, groove } = reader.relief()
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings: cellWarnings('cells', cell, frame.pixelMm),
      at: (x, y, _tone, out) => {
        const column = Math.floor(x / cell)
        const row = Math.floor(y / cell)
        const step = Math.floor(pitches * chance(column, row, seed, 0))
        const turn = Math.floor(directions * chance(column, row, seed, 1))
        out.pitch = pitchBetween(range, pitches === 1 ? 0.5 : step / (pitches - 1))
        out.azimuth = (Math.PI * turn) / directions
        out.grooveDepth = depth
        out.share = share
        out.spread = out.jitter = cellSpread(cell, out.pitch)
        return out
      },
    }
  },
}
