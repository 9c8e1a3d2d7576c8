import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { aim, type Light } from '../../reference/light.ts'
import { MapSampler } from '../../reference/sample.ts'
import { emptySite, type Site, shadeAll } from '../../reference/shade.ts'
import type { SitePlace } from '../sweep/site-sweep.ts'

/** Sites of a map that are looked at once or twice: one site is filled for each, instead of one a place. */
export class PassingSites {
  readonly #map: MaterialMap
  readonly #sets: readonly Tables[]
  readonly #places: readonly SitePlace[]
  readonly #sampler: MapSampler
  readonly #site: Site

  /** @param sets tables of each spectrum among the lamps, as `bakingsOf` names them */
  constructor(map: MaterialMap, sets: readonly Tables[], places: readonly SitePlace[]) {
    const [first, ...more] = sets
    if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
    this.#map = map
    this.#sets = sets
    this.#places = places
    this.#sampler = new MapSampler(map)
    this.#site = emptySite(first, ...more)
  }

  /** X, Y, Z of a site under a light, as `SiteSweep` has it; returns `out`. */
  at(index: number, light: Light, out: Float64Array): Float64Array {
    const { column, row, xMm, yMm } = this.#places[index]!
    this.#sampler.fill(column, row, this.#site)
    aim(light, xMm - this.#map.widthMm / 2, yMm - this.#map.heightMm / 2, this.#site)
    return shadeAll(this.#site, light, this.#sets, out)
  }
}
