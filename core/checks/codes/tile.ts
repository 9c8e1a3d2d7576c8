import type { MaterialMap } from '../../material/map.ts'
import { MapSampler } from '../../reference/sample.ts'
import type { Site } from '../../reference/shade.ts'
import { pixelOf } from '../../reference/sweep.ts'
import { dotAt } from './screen.ts'

/** Inks of a piece of the art, finer than the map has them. Pixel (0, 0) is the upper left. */
export interface InkTile {
  readonly width: number
  readonly height: number
  readonly pixelsPerMm: number
  /** Upper left corner, mm from the art's lower left corner, y up. */
  readonly leftMm: number
  readonly topMm: number
  /** C, M, Y, K of each pixel, 0..255. */
  readonly inks: Uint8Array
  /** The spot inks of the map in its order, as many bytes a pixel; null where the map's own are taken. */
  readonly spots: Uint8Array | null
  /** Where its edges come from: outlines, or pixels of the art; `map` where there is no art. */
  readonly from: 'outlines' | 'pixels' | 'map'
  /** Pixels an inch of what it was read from; of outlines those of the tile. */
  readonly ppi: number
}

/** Pixel of a tile at a place; -1 beside it. */
export function tilePixel(
  { width, height, pixelsPerMm, leftMm, topMm }: InkTile,
  x: number,
  y: number,
): number {
  const column = Math.floor((x - leftMm) * pixelsPerMm)
  const row = Math.floor((topMm - y) * pixelsPerMm)
  return column < 0 || row < 0 || column >= width || row >= height ? -1 : row * width + column
}

/**
 * How dark the inks of a pixel are to a person, roughly, 0..1: enough to tell bars from spaces in any pair of colours.
 */
export function darknessOf({ inks, spots }: InkTile, pixel: number): number {
  let light = 1
  for (let c = 0; c < 4; c++) light *= 1 - (darkens[c]! * inks[4 * pixel + c]!) / 255
  const count = spots === null ? 0 : spots.length / (inks.length / 4)
  for (let s = 0; s < count; s++) light *= 1 - (0.6 * spots![count * pixel + s]!) / 255
  return 1 - light
}
const darkens = [0.6, 0.55, 0.1, 0.95] as const

/** Fills sites with what lies at a place: inks of the tile, screened whites as dots, the rest of the map. */
export class TileSampler {
  readonly #map: MaterialMap
  readonly #tile: InkTile
  readonly #sampler: MapSampler
  readonly #rulingPerMm: number
  readonly #site: Site
  /** Ground of each pixel of the map, from 1; 0 where nobody asked. */
  readonly #groundOf: Uint32Array
  readonly #known = new Map<string, number>()
  #grooved = false
  /** Of each ground, the whites that are screened there, and their coverage. */
  readonly #dotted: (readonly (readonly [white: number, coverage: number])[])[] = []

  /**
   * @param rulingPerMm lines a millimetre of the white's screen
   * @param site        a site of the tables in use, to read the map into
   */
  constructor(map: MaterialMap, tile: InkTile, rulingPerMm: number, site: Site) {
    this.#map = map
    this.#tile = tile
    this.#sampler = new MapSampler(map)
    this.#rulingPerMm = rulingPerMm
    this.#site = site
    this.#groundOf = new Uint32Array(map.width * map.height)
  }

  /** A number that places have in common where all but inks and dots is alike; -1 beside the panel. */
  groundAt(x: number, y: number): number {
    const at = pixelOf(this.#map, x, y)
    if (at === null) return -1
    const i = at[1] * this.#map.width + at[0]
    if (this.#groundOf[i] === 0) this.#groundOf[i] = this.#numberOf(...at) + 1
    return this.#groundOf[i]! - 1
  }

  /** What tells places of a ground apart: inks of the tile, and which whites have a dot. */
  printAt(x: number, y: number, pixel: number, ground: number): string | number {
    const { inks, spots } = this.#tile
    const at = 4 * pixel
    let print = ((inks[at]! << 24) | (inks[at + 1]! << 16) | (inks[at + 2]! << 8) | inks[at + 3]!) >>> 0
    let place = 2 ** 32
    for (const [, coverage] of this.#dotted[ground]!) {
      if (this.#dot(x, y, coverage)) print += place
      place *= 2
    }
    const count = this.#map.spots.length
    return spots === null ? print : `${print} ${spots.subarray(count * pixel, count * (pixel + 1)).join()}`
  }

  /** Sets the matter of the site that was given. @param ground of the place */
  fill(x: number, y: number, pixel: number, ground: number): void {
    const site = this.#site
    this.#sampler.fill(...pixelOf(this.#map, x, y)!, site)
    const { inks, spots } = this.#tile
    for (let c = 0; c < 4; c++) site.inks[c] = inks[4 * pixel + c]! / 255
    const count = this.#map.spots.length
    if (spots !== null) for (let s = 0; s < count; s++) site.spots[s] = spots[count * pixel + s]! / 255
    for (const [white, coverage] of this.#dotted[ground]!)
      site.whites[white] = this.#dot(x, y, coverage) ? 1 : 0
  }

  /** Whether any ground that was asked for has grooves. */
  get grooved(): boolean {
    return this.#grooved
  }

  #numberOf(column: number, row: number): number {
    this.#sampler.fill(column, row, this.#site)
    const key = groundKey(this.#site, this.#tile.spots === null)
    const known = this.#known.get(key)
    if (known !== undefined) return known
    const { whites, gratings } = this.#site
    this.#grooved ||= gratings > 0
    this.#dotted.push(
      this.#map.whites.flatMap(({ screen }, i) =>
        screen !== 'even' && whites[i]! > 0 && whites[i]! < 1 ? [[i, whites[i]!] as const] : [],
      ),
    )
    this.#known.set(key, this.#known.size)
    return this.#known.size - 1
  }

  #dot(x: number, y: number, coverage: number): boolean {
    return dotAt(x * this.#rulingPerMm, y * this.#rulingPerMm, coverage)
  }
}

/** All that the light of a site hangs on but for its process inks, with lamp and eye far away. */
function groundKey(site: Site, withSpots: boolean): string {
  const { metal, varnish, unevenness, spots, whites, gratings } = site
  let key = `${metal} ${varnish} ${unevenness} ${withSpots ? spots.join() : ''} ${whites.join()}`
  for (let i = 0; i < gratings; i++)
    key += `|${site.directionX[i]} ${site.directionY[i]} ${site.pitch[i]} ${site.grooveDepth[i]} ${site.groove[i]} ${site.share[i]} ${site.spreadAlong[i]} ${site.spreadAcross[i]} ${site.spreadCovariance[i]}`
  return key
}
