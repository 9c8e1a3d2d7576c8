import type { MaterialMap } from '../../material/map.ts'
import { PlaneReader } from '../../material/plane.ts'
import { viewSetPlane, viewsPlane } from '../../material/views.ts'
import type { Tables } from '../../optics/tables.ts'
import { MapSampler } from '../../reference/sample.ts'
import { emptySite } from '../../reference/shade.ts'
import { prepareWhites } from '../../reference/shade-white.ts'
import { metalSeen } from '../sweep/narrow.ts'
import type { PurePixel } from './matter.ts'
import type { Spot } from './view.ts'

/** Places this close see lamp and eye alike, mm: 0.15° of each other at 200 mm, much less than a torch is wide. */
const flashMm = 0.5
/** The same where no metal is seen: what scatters and what shines from the surface change slowly. */
const coveredMm = 10

/**
 * Pixels as classes of what is equal: same plates, same holography and mottle, within half a millimetre; under a white
 * that hides it holography does not count. Where there are more classes than `most`, every class stands for its
 * neighbours in the order of rows as well: evenly spread by area.
 */
export function spotsOf(
  map: MaterialMap,
  tables: Tables,
  pixels: readonly PurePixel[],
  most: number,
): readonly Spot[] {
  const under = new Underprint(map)
  const sampler = new MapSampler(map)
  const site = emptySite(tables)
  const classes = new Map<number, { pixel: PurePixel; area: number; x: number; y: number }>()
  const perX = map.widthMm / map.width
  const perY = map.heightMm / map.height
  const key = new Key()
  for (const pixel of pixels) {
    const x = (pixel.column + 0.5) * perX
    const y = map.heightMm - (pixel.row + 0.5) * perY
    const { metal, varnish, inks, spots, whites } = pixel.plates
    sampler.fill(pixel.column, pixel.row, site)
    site.metal = metal
    site.whites.set(whites)
    prepareWhites(site, tables)
    const seen = metalSeen(site)
    const cellMm = seen ? flashMm : coveredMm
    key.start()
    key.add(Math.floor(x / cellMm))
    key.add(Math.floor(y / cellMm))
    for (const part of [metal, varnish]) key.add(Math.round(255 * part))
    for (const plates of [inks, spots, whites]) for (const part of plates) key.add(Math.round(255 * part))
    under.addTo(key, pixel, seen)
    const one = classes.get(key.value)
    const area = pixel.areaMm2
    if (one === undefined) classes.set(key.value, { pixel, area, x: x * area, y: y * area })
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

/** All of a map's pixel that plates do not say: gratings and views, and mottle. */
class Underprint {
  readonly #gratings: readonly PlaneReader[]
  readonly #mottle: PlaneReader

  constructor(map: MaterialMap) {
    const names = map.gratings.flatMap(({ kappa, spread, relief }) => [kappa, spread, relief])
    const reader = (name: string) => new PlaneReader(map.planes.get(name), map.width)
    this.#gratings = [...names, viewSetPlane, viewsPlane].map(reader)
    this.#mottle = reader('mottle')
  }

  addTo(key: Key, { column, row }: PurePixel, gratings: boolean): void {
    addSamples(key, this.#mottle, column, row)
    if (gratings) for (const plane of this.#gratings) addSamples(key, plane, column, row)
  }
}

function addSamples(key: Key, plane: PlaneReader, column: number, row: number): void {
  const at = plane.at(column, row)
  for (let i = 0; i < plane.components; i++) key.add(at < 0 ? 0 : plane.data[at + i]!)
}

/** Whole numbers in one of 52 bits, different for different ones but once in a million million. FNV-1a, twice. */
class Key {
  #a = 0
  #b = 0

  start(): void {
    this.#a = 0x811c9dc5
    this.#b = 0x9e3779b9
  }

  add(part: number): void {
    this.#a = Math.imul(this.#a ^ part, 0x01000193)
    this.#b = Math.imul(this.#b ^ part, 0x01000193)
    this.#b ^= this.#b >>> 15
  }

  get value(): number {
    return (this.#a >>> 0) * 2 ** 20 + (this.#b & 0xfffff)
  }
}
