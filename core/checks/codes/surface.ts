import type { MaterialMap } from '../../material/map.ts'
import type { Site } from '../../reference/shade.ts'
import type { ReaderLight } from './light.ts'
import { type InkTile, TileSampler, tilePixel } from './tile.ts'

/** What a reader measures at a place of the panel, 0..1 of a perfect diffuser (a flash may be above). */
export interface Readable {
  at(x: number, y: number): number
}

/** Reflectances of a tile; what was worked out once is kept, pixel by pixel. */
export class ReaderSurface implements Readable {
  readonly #tile: InkTile
  readonly #sampler: TileSampler
  readonly #light: ReaderLight
  readonly #site: Site
  readonly #known: Float32Array
  readonly #alike = new Map<string, number>()

  constructor(map: MaterialMap, tile: InkTile, light: ReaderLight, rulingPerMm: number) {
    this.#tile = tile
    this.#sampler = new TileSampler(map, tile, rulingPerMm)
    this.#light = light
    this.#site = light.emptySite()
    this.#known = new Float32Array(tile.width * tile.height).fill(Number.NaN)
  }

  /** x, y mm from the art's lower left corner; nothing comes from beside the panel or the tile. */
  at(x: number, y: number): number {
    const pixel = tilePixel(this.#tile, x, y)
    if (pixel < 0) return 0
    const known = this.#known[pixel]!
    if (!Number.isNaN(known)) return known
    const { width, pixelsPerMm, leftMm, topMm } = this.#tile
    // By the pixel's own middle, so that it does not matter where it was asked for first.
    const middleX = leftMm + ((pixel % width) + 0.5) / pixelsPerMm
    const middleY = topMm - (Math.floor(pixel / width) + 0.5) / pixelsPerMm
    const found = this.#sampler.fill(middleX, middleY, pixel, this.#site) ? this.#reflectance() : 0
    this.#known[pixel] = found
    // As it is kept, so that the first answer is that of every later one.
    return this.#known[pixel]!
  }

  #reflectance(): number {
    const key = matterOf(this.#site)
    const known = this.#alike.get(key)
    if (known !== undefined) return known
    const found = this.#light.reflectance(this.#site)
    this.#alike.set(key, found)
    return found
  }
}

/** All that the light of a site hangs on, with lamp and eye far away. */
function matterOf(site: Site): string {
  const { metal, varnish, unevenness, inks, spots, whites, gratings } = site
  let key = `${metal} ${varnish} ${unevenness} ${inks.join()} ${spots.join()} ${whites.join()}`
  for (let i = 0; i < gratings; i++)
    key += `|${site.directionX[i]} ${site.directionY[i]} ${site.pitch[i]} ${site.grooveDepth[i]} ${site.groove[i]} ${site.share[i]} ${site.spreadAlong[i]} ${site.spreadAcross[i]} ${site.spreadCovariance[i]}`
  return key
}
