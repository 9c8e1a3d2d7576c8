import { kappaScale, type MaterialMap, spreadScale } from '../material/map.ts'
import { unevennessOf } from '../material/mottle.ts'
import { PlaneReader } from '../material/plane.ts'
import { emptyViewGrating, ViewReader } from '../material/views.ts'
import { gratingLimit, type Site } from './shade.ts'

/** Fills the matter of a site from one level of a map. Allocates nothing a pixel. */
export class MapSampler {
  readonly #metal: PlaneReader
  readonly #inks: readonly PlaneReader[]
  readonly #varnish: PlaneReader
  readonly #whites: readonly PlaneReader[]
  readonly #mottle: PlaneReader
  readonly #spots: readonly PlaneReader[]
  readonly #gratings: readonly {
    readonly kappa: PlaneReader
    readonly spread: PlaneReader
    readonly relief: PlaneReader
  }[]

  readonly #views: ViewReader
  readonly #view = emptyViewGrating()

  constructor(map: MaterialMap) {
    const plane = (name: string | null) =>
      new PlaneReader(name === null ? undefined : map.planes.get(name), map.width)
    this.#views = new ViewReader(map)
    this.#metal = plane('metal')
    this.#inks = ['C', 'M', 'Y', 'K'].map(plane)
    this.#varnish = plane(map.varnish)
    this.#whites = map.whites.map(w => plane(w.coverage))
    this.#mottle = plane('mottle')
    this.#spots = map.spots.map(s => plane(s.coverage))
    this.#gratings = map.gratings.slice(0, gratingLimit).map(g => ({
      kappa: plane(g.kappa),
      spread: plane(g.spread),
      relief: plane(g.relief),
    }))
  }

  /** @param x, y pixel of this level, inside it */
  fill(x: number, y: number, site: Site): void {
    site.metal = fraction(this.#metal, x, y)
    site.varnish = fraction(this.#varnish, x, y)
    this.fillInks(x, y, site)
    this.fillWhites(x, y, site)
    const used = this.#fillGratings(x, y, site)
    site.gratings = this.#views.none ? used : this.#addViews(x, y, site, used)
  }

  /** All but the views; returns how many. */
  #fillGratings(x: number, y: number, site: Site): number {
    let used = 0
    for (let i = 0; i < this.#gratings.length; i++) {
      const { kappa, spread, relief } = this.#gratings[i]!
      const k = kappa.at(x, y)
      if (k < 0) continue
      const kx = kappa.data[k]!
      const ky = kappa.data[k + 1]!
      const size2 = kx * kx + ky * ky
      if (size2 === 0) continue
      const unit = 1 / Math.sqrt(size2)
      site.directionX[used] = kx * unit
      site.directionY[used] = ky * unit
      site.pitch[used] = 1000 * kappaScale * unit
      const s = spread.at(x, y)
      site.spreadAlong[used] = s < 0 ? 0 : spread.data[s]! / (1000 * spreadScale)
      site.spreadAcross[used] = s < 0 ? 0 : spread.data[s + 1]! / (1000 * spreadScale)
      const r = relief.at(x, y)
      site.grooveDepth[used] = r < 0 ? 0 : relief.data[r]!
      site.share[used] = r < 0 ? 0 : relief.data[r + 1]! / 255
      site.groove[used] = r < 0 ? 0 : relief.data[r + 2]!
      site.spreadCovariance[used] = 0
      used++
    }
    return used
  }

  /** The inks alone. */
  fillInks(x: number, y: number, { inks, spots }: Pick<Site, 'inks' | 'spots'>): void {
    for (let i = 0; i < 4; i++) inks[i] = fraction(this.#inks[i]!, x, y)
    for (let i = 0; i < this.#spots.length; i++) spots[i] = fraction(this.#spots[i]!, x, y)
  }

  /** The whites alone. */
  fillWhites(x: number, y: number, site: Pick<Site, 'whites' | 'unevenness'>): void {
    for (let i = 0; i < this.#whites.length; i++) site.whites[i] = fraction(this.#whites[i]!, x, y)
    const uneven = this.#mottle.at(x, y)
    site.unevenness = uneven < 0 ? 0 : unevennessOf(this.#mottle.data[uneven]!)
  }

  #addViews(x: number, y: number, site: Site, before: number): number {
    const count = this.#views.open(x, y)
    let used = before
    for (let i = 0; i < count; i++) {
      const share = this.#views.share(i)
      if (share === 0) continue
      const { gx, gy, k, along, across, covariance } = this.#views.grating(i, this.#view)
      site.directionX[used] = gx
      site.directionY[used] = gy
      site.pitch[used] = 1 / k
      site.grooveDepth[used] = this.#views.set!.grooveDepth
      site.share[used] = share
      site.groove[used] = this.#views.set!.groove
      site.spreadAlong[used] = along
      site.spreadAcross[used] = across
      site.spreadCovariance[used] = covariance
      used++
    }
    return used
  }
}

function fraction(plane: PlaneReader, x: number, y: number): number {
  const at = plane.at(x, y)
  return at < 0 ? 0 : plane.data[at]! / 255
}
