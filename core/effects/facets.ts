import { chosenPitches, pitchBetween, readPitches } from './cells.ts'
import { chance } from './chance.ts'
import type { EffectControl, EffectKind } from './effect.ts'
import { cellWarnings, designedLimits } from './limits.ts'
import { ParameterReader, reliefControls, reliefDefaults, seedControl, shapeChoice } from './parameters.ts'

const facetControl: EffectControl = {
  key: 'facetMm',
  label: 'Size of a facet',
  unit: 'mm',
  min: 0.1,
  max: 100,
  step: 0.1,
  says: 'As a mean: facets are uneven.',
}

/** Shards with straight edges, each a plain grating of its own. */
export const facets: EffectKind = {
  name: 'facets',
  title: 'Facets',
  says: 'Uneven shards with straight edges flash in turn, each in a colour and at an angle of its own, like cut glass.',
  limits: designedLimits(0.4, 'A motif needs a few facets across to look cut.'),
  controls: [facetControl, ...chosenPitches, seedControl, ...reliefControls],
  choices: [shapeChoice],
  defaults: { facetMm: 4, finestNm: 750, widestNm: 1400, seed: 1, ...reliefDefaults },
  prepare(parameters, frame) {
    const reader = new ParameterReader(facets.name, parameters, facets.defaults)
    const size = reader.number(facetControl)
    const seed = reader.whole(seedControl)
    const range = readPitches(reader)
    const { depth, share, groove } = reader.relief()
    const nearest = nearestSite(seed)
    return {
      kind: 'grating',
      groove,
      readsArt: false,
      maskLayerId: null,
      warnings: cellWarnings('facets', size, frame.pixelMm),
      at: (x, y, _tone, out) => {
        const [column, row] = nearest(x / size, y / size)
        out.pitch = pitchBetween(range, chance(column, row, seed, 2))
        out.azimuth = 2 * Math.PI * chance(column, row, seed, 3)
        out.grooveDepth = depth
        out.share = share
        out.spread = 0
        out.jitter = 0
        return out
      },
    }
  },
}

/** Sites this many cells away on each side may be the nearest: one's own cell has one within √2. */
const reach = 2
const side = 2 * reach + 1

/**
 * Finds the cell whose site is nearest: one site at random in each cell of side 1. The sites around the last place are
 * kept, so that a row of places costs little. The pair is written over by the next call.
 */
export function nearestSite(seed: number): (x: number, y: number) => readonly [column: number, row: number] {
  const sites = new Float64Array(2 * side * side)
  const found: [number, number] = [0, 0]
  let [left, bottom] = [Number.NaN, Number.NaN]
  return (x, y) => {
    const [column, row] = [Math.floor(x), Math.floor(y)]
    if (column !== left || row !== bottom) {
      left = column
      bottom = row
      for (let i = 0; i < side * side; i++) {
        const [c, r] = [column - reach + (i % side), row - reach + Math.floor(i / side)]
        sites[2 * i] = c + chance(c, r, seed, 0)
        sites[2 * i + 1] = r + chance(c, r, seed, 1)
      }
    }
    let best = 0
    let least = Number.POSITIVE_INFINITY
    for (let i = 0; i < side * side; i++) {
      const distance = (sites[2 * i]! - x) ** 2 + (sites[2 * i + 1]! - y) ** 2
      if (distance < least) {
        least = distance
        best = i
      }
    }
    found[0] = column - reach + (best % side)
    found[1] = row - reach + Math.floor(best / side)
    return found
  }
}
