import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { viewSetPlane, viewsPlane } from '../../material/views.ts'
import type { PurePixel } from './matter.ts'
import type { Spot } from './view.ts'

/** Places this close see lamp and eye alike, mm: 0.15° of each other at 200 mm, much less than a torch is wide. */
const cellMm = 0.5

/**
 * Pixels as classes of what is equal: same plates, same holography and mottle, within half a millimetre. Where there are
 * more classes than `most`, every class stands for its neighbours in the order of rows as well: evenly spread by area.
 */
export function spotsOf(map: MaterialMap, pixels: readonly PurePixel[], most: number): readonly Spot[] {
  const under = new Underprint(map)
  const classes = new Map<string, { pixel: PurePixel; area: number; x: number; y: number }>()
  const perX = map.widthMm / map.width
  const perY = map.heightMm / map.height
  for (const pixel of pixels) {
    const x = (pixel.column + 0.5) * perX
    const y = map.heightMm - (pixel.row + 0.5) * perY
    const { metal, varnish, inks, spots, whites } = pixel.plates
    const bytes = [metal, varnish, ...inks, ...spots, ...whites].map(value => Math.round(255 * value))
    const cell = [Math.floor(x / cellMm), Math.floor(y / cellMm)]
    const key = [...cell, ...bytes, ...under.at(pixel.column, pixel.row)].join(' ')
    const one = classes.get(key)
    const area = pixel.areaMm2
    if (one === undefined) classes.set(key, { pixel, area, x: x * area, y: y * area })
    else {
      one.area += area
      one.x += x * area
      one.y += y * area
    }
  }
  const total = pixels.reduce((sum, one) => sum + one.areaMm2, 0)
  const spots = [...classes.values()].map(
    ({ pixel, area, x, y }): Spot => ({
      xMm: x / area,
      yMm: y / area,
      column: pixel.column,
      row: pixel.row,
      plates: pixel.plates,
      weight: area / total,
    }),
  )
  return spots.length <= most ? spots : thinned(spots, most)
}

/** Every 1/n of the area, in the middle of its part, the class that lies there. */
function thinned(spots: readonly Spot[], n: number): readonly Spot[] {
  const out: Spot[] = []
  let sum = 0
  for (const spot of spots) {
    sum += spot.weight
    let hits = 0
    while (out.length + hits < n && sum >= (out.length + hits + 0.5) / n) hits++
    for (let i = 0; i < hits; i++) out.push({ ...spot, weight: 1 / n })
  }
  return out
}

/** All of a map's pixel that plates do not say: gratings, views and mottle. */
class Underprint {
  readonly #planes: readonly PlaneReader[]

  constructor(map: MaterialMap) {
    const names = map.gratings.flatMap(({ kappa, spread, relief }) => [kappa, spread, relief])
    this.#planes = [...names, 'mottle', viewSetPlane, viewsPlane].map(
      name => new PlaneReader(map.planes.get(name), map.width),
    )
  }

  at(column: number, row: number): number[] {
    return this.#planes.flatMap(plane => {
      const at = plane.at(column, row)
      return at < 0 ? [0] : Array.from(plane.data.subarray(at, at + plane.components))
    })
  }
}
