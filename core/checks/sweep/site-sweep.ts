import type { MaterialMap } from '../../material/map.ts'
import type { Tables } from '../../optics/tables.ts'
import { aim, type Light } from '../../reference/light.ts'
import { MapSampler } from '../../reference/sample.ts'
import { emptySite, type Site, shadeAll } from '../../reference/shade.ts'
import { between, type Cell, gauss } from './cell.ts'
import { lookOver } from './look-over.ts'
import { type Narrow, type NarrowLamp, narrowOf } from './narrow.ts'
import type { SiteClass } from './site-classes.ts'

/** Where a site lies. */
export type SitePlace = Pick<SiteClass, 'column' | 'row' | 'xMm' | 'yMm'>

/** Light of a site over a cell, X, Y, Z in units of perfect white under all lamps in the untilted panel's middle. */
export interface CellLight {
  /** Mean over what of the cell is in sight. */
  readonly mean: Float64Array
  /** Part of the cell that is in sight, 0..1. */
  seen: number
  /** Largest Y that was met, and where. */
  most: number
  first: number
  second: number
}

export const emptyCellLight = (): CellLight => ({
  mean: new Float64Array(3),
  seen: 0,
  most: 0,
  first: 0,
  second: 0,
})

/** One site, its matter filled in once. */
interface Filled {
  readonly site: Site
  readonly narrow: Narrow
}

/**
 * Some sites of a map, looked at in many ways: what the pixel of the exact picture there has, without the picture. The
 * matter of each is read once. All lies printed on the flat panel, or on the leaf of the scene.
 */
export class SiteSweep {
  readonly #sets: readonly Tables[]
  readonly #filled: readonly Filled[]
  readonly #one = new Float64Array(3)

  /** @param sets tables of each spectrum among the lamps, as `bakingsOf` names them */
  constructor(map: MaterialMap, sets: readonly Tables[], places: readonly SitePlace[]) {
    const [first, ...more] = sets
    if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
    this.#sets = sets
    const sampler = new MapSampler(map)
    this.#filled = places.map(({ column, row, xMm, yMm }) => {
      const site = emptySite(first, ...more)
      sampler.fill(column, row, site)
      return { site, narrow: narrowOf(site, first, xMm - map.widthMm / 2, yMm - map.heightMm / 2) }
    })
  }

  get count(): number {
    return this.#filled.length
  }

  /** X, Y, Z of a site under a light, whose eye stands on the print side; returns `out`. */
  at(index: number, light: Light, out: Float64Array): Float64Array {
    const { site, narrow } = this.#filled[index]!
    aim(light, narrow.x, narrow.y, site)
    return shadeAll(site, light, this.#sets, out)
  }

  /**
   * Its light over a cell: the cell is halved until no flash of the site's own matter can hide between the places that
   * are looked at; returns `out`.
   * @param lamps those of the scene, by `narrowLamps`
   */
  over(index: number, cell: Cell, lamps: readonly NarrowLamp[], out: CellLight): CellLight {
    out.mean.fill(0)
    out.seen = 0
    out.most = 0
    this.#add(index, cell, lamps, 1, out)
    if (out.seen > 0) for (let c = 0; c < 3; c++) out.mean[c]! /= out.seen
    return out
  }

  #add(index: number, cell: Cell, lamps: readonly NarrowLamp[], part: number, out: CellLight): void {
    const { halved, first, second } = lookOver(cell, this.#filled[index]!.narrow, lamps)
    if (halved !== null && part > leastPart) {
      for (const half of cell.halves(halved)) this.#add(index, half, lamps, part / 2, out)
      return
    }
    const lights = cell.lights(first, second)
    for (let i = 0; i < first; i++)
      for (let j = 0; j < second; j++) {
        const light = lights[i * second + j]!
        if (light === null) continue
        const XYZ = this.at(index, light, this.#one)
        const weight = part * gauss[first].weights[i]! * gauss[second].weights[j]!
        for (let c = 0; c < 3; c++) out.mean[c]! += weight * XYZ[c]!
        out.seen += weight
        if (XYZ[1]! < out.most) continue
        out.most = XYZ[1]!
        out.first = between(cell.first, gauss[first].at[i]!)
        out.second = between(cell.second, gauss[second].at[j]!)
      }
  }
}

/** No lamp is so small that its flash needs finer pieces than this part of a cell. */
const leastPart = 2 ** -20
