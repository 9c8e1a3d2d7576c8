import { checkCancelled, type Task } from '../../base/task.ts'
import { matterPlace } from './map-place.ts'
import { type SweepInput, sweepSteps } from './sweep-sites.ts'

/** Numbers of a coarse raster over the map, row by row from its upper left corner; NaN where nothing was in sight. */
export interface HeatMap {
  readonly columns: number
  readonly rows: number
  /** Mean of Y over the views by their weights, least and largest Y, units of perfect white. */
  readonly mean: Float32Array
  readonly least: Float32Array
  readonly most: Float32Array
}

export interface HeatInput extends Omit<SweepInput, 'places' | 'components'> {
  /** Of the raster, ≥ 1; its rows are as many as make it square. */
  readonly columns: number
  /** One a view of the grid, as `weightsOf` gives them. */
  readonly weights: Float64Array
}

/**
 * How bright every place of a map gets over all views. A place of the raster is the map's pixel in its middle: give a
 * level of the pyramid about as coarse as the raster for means, the fine map for the pixels themselves.
 * Throws Cancelled when told to stop, BadInput for a bad grid.
 */
export function heatMap(input: HeatInput, task?: Task): HeatMap {
  const { map, columns, weights } = input
  const rows = Math.max(1, Math.round((columns * map.height) / map.width))
  const size = columns * rows
  const sums = new Float64Array(size)
  const seen = new Float64Array(size)
  const least = new Float32Array(size).fill(Number.NaN)
  const most = new Float32Array(size).fill(Number.NaN)
  // Row by row: what is kept of the views is their sum.
  for (let row = 0; row < rows; row++) {
    const places = Array.from({ length: columns }, (_, i) =>
      matterPlace(map, (i + 0.5) / columns, (row + 0.5) / rows),
    )
    const steps = sweepSteps({ ...input, places, components: 1 })
    let step = steps.next()
    for (; step.done !== true; step = steps.next()) {
      checkCancelled(task)
      task?.progress?.((row + step.value.done) / rows, 'tilting')
    }
    const { light, most: flashes, views } = step.value
    for (let i = 0; i < columns; i++)
      for (let v = 0; v < views.length; v++) {
        const Y = light[i * views.length + v]!
        if (Number.isNaN(Y)) continue
        const to = row * columns + i
        sums[to]! += weights[v]! * Y
        seen[to]! += weights[v]!
        const flash = flashes[i * views.length + v]!
        if (!(least[to]! <= Y)) least[to] = Y
        if (!(most[to]! >= flash)) most[to] = flash
      }
  }
  return { columns, rows, mean: Float32Array.from(sums, (sum, i) => sum / seen[i]!), least, most }
}
