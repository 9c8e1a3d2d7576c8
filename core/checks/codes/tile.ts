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
  readonly #spots: number
  readonly #rulingPerMm: number

  /** @param rulingPerMm lines a millimetre of the white's screen */
  constructor(map: MaterialMap, tile: InkTile, rulingPerMm: number) {
    this.#map = map
    this.#tile = tile
    this.#sampler = new MapSampler(map)
    this.#spots = map.spots.length
    this.#rulingPerMm = rulingPerMm
  }

  /** False beside the panel. */
  fill(x: number, y: number, pixel: number, site: Site): boolean {
    const at = pixelOf(this.#map, x, y)
    if (at === null) return false
    this.#sampler.fill(...at, site)
    const { inks, spots } = this.#tile
    if (pixel >= 0) {
      for (let c = 0; c < 4; c++) site.inks[c] = inks[4 * pixel + c]! / 255
      if (spots !== null)
        for (let s = 0; s < this.#spots; s++) site.spots[s] = spots[this.#spots * pixel + s]! / 255
    }
    this.#map.whites.forEach(({ screen }, i) => {
      const coverage = site.whites[i]!
      if (screen !== 'even' && coverage > 0 && coverage < 1)
        site.whites[i] = dotAt(x * this.#rulingPerMm, y * this.#rulingPerMm, coverage) ? 1 : 0
    })
    return true
  }
}
