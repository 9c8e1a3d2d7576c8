import type { MaterialMap } from '../../material/map.ts'
import type { Site } from '../../reference/shade.ts'
import type { ReaderLight } from './light.ts'
import { type InkTile, TileSampler } from './tile.ts'

/** What a reader measures at a place of the panel, 0..1 of a perfect diffuser (a flash may be above). */
export interface Readable {
  at(x: number, y: number): number
}

/** Reflectances of a tile; what was worked out once is kept, pixel by pixel. */
export class ReaderSurface implements Readable {
  readonly #sampler: TileSampler
  readonly #light: ReaderLight
  readonly #site: Site
  readonly #known: Float32Array
  /** Reflectances of each ground by what is printed on it. */
  readonly #alike: Map<string | number, number>[] = []
  // Of the tile, at hand: millions of places are asked for.
  readonly #width: number
  readonly #height: number
  readonly #pixelsPerMm: number
  readonly #leftMm: number
  readonly #topMm: number

  constructor(map: MaterialMap, tile: InkTile, light: ReaderLight, rulingPerMm: number) {
    this.#light = light
    this.#site = light.emptySite()
    this.#sampler = new TileSampler(map, tile, rulingPerMm, this.#site)
    this.#known = new Float32Array(tile.width * tile.height).fill(Number.NaN)
    this.#width = tile.width
    this.#height = tile.height
    this.#pixelsPerMm = tile.pixelsPerMm
    this.#leftMm = tile.leftMm
    this.#topMm = tile.topMm
  }

  /** x, y mm from the art's lower left corner; nothing comes from beside the panel or the tile. */
  at(x: number, y: number): number {
    const column = Math.floor((x - this.#leftMm) * this.#pixelsPerMm)
    const row = Math.floor((this.#topMm - y) * this.#pixelsPerMm)
    if (column < 0 || row < 0 || column >= this.#width || row >= this.#height) return 0
    const pixel = row * this.#width + column
    if (Number.isNaN(this.#known[pixel]!)) {
      // By the pixel's own middle, so that it does not matter where it was asked for first.
      const middleX = this.#leftMm + (column + 0.5) / this.#pixelsPerMm
      const middleY = this.#topMm - (row + 0.5) / this.#pixelsPerMm
      this.#known[pixel] = this.#reflectance(middleX, middleY, pixel)
    }
    // As it is kept, so that the first answer is that of every later one.
    return this.#known[pixel]!
  }

  /** Whether grooves lie under any place that was asked for. */
  get grooved(): boolean {
    return this.#sampler.grooved
  }

  #reflectance(x: number, y: number, pixel: number): number {
    const ground = this.#sampler.groundAt(x, y)
    if (ground < 0) return 0
    this.#alike[ground] ??= new Map()
    const alike = this.#alike[ground]
    const print = this.#sampler.printAt(x, y, pixel, ground)
    const known = alike.get(print)
    if (known !== undefined) return known
    this.#sampler.fill(x, y, pixel, ground)
    const found = this.#light.reflectance(this.#site)
    alike.set(print, found)
    return found
  }
}
