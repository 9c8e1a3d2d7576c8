import type { XYZ } from '../color/xyz.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { aim, lightOf } from './light.ts'
import { standIn } from './pose.ts'
import { MapSampler } from './sample.ts'
import type { PanelPose, Scene } from './scene.ts'
import { emptySite, type Site, shadeAll } from './shade.ts'

/** Mm from the panel's lower left corner, y up. */
export interface Place {
  readonly xMm: number
  readonly yMm: number
}

/**
 * What the eye sees at some places, the panel held one way after the other: the pixel of the exact picture there, without
 * the picture. Places beside the panel do not count.
 */
export class Sweeper {
  readonly #scene: Scene
  readonly #map: MaterialMap
  readonly #sets: readonly Tables[]
  readonly #site: Site
  readonly #sampler: MapSampler
  readonly #places: readonly Place[]
  readonly #one = new Float64Array(3)

  /** @param sets tables of each spectrum among the lamps, as `bakingsOf` names them */
  constructor(scene: Scene, map: MaterialMap, sets: readonly Tables[], places: readonly Place[]) {
    const [first, ...more] = sets
    if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
    this.#scene = scene
    this.#map = map
    this.#sets = sets
    this.#site = emptySite(first, ...more)
    this.#sampler = new MapSampler(map)
    this.#places = places.filter(({ xMm, yMm }) => pixelOf(map, xMm, yMm) !== null)
  }

  /** Mean X, Y, Z in units of perfect white under all lamps in the untilted panel's middle; null out of sight. */
  at(pose: PanelPose): XYZ | null {
    return this.#mean(pose, () => undefined)
  }

  /** The same inks and varnish on white board: what they are without metal, holography and white ink. */
  onWhite(pose: PanelPose): XYZ | null {
    return this.#mean(pose, site => {
      site.metal = 0
      site.gratings = 0
      site.whites.fill(0)
    })
  }

  #mean(pose: PanelPose, change: (site: Site) => void): XYZ | null {
    const scene = { ...this.#scene, view: { ...this.#scene.view, pose } }
    const standing = standIn(scene)
    if (standing.eye[2] <= 0 || this.#places.length === 0) return null
    const light = lightOf(scene, standing)
    const { widthMm, heightMm } = this.#map
    const sum: [number, number, number] = [0, 0, 0]
    for (const { xMm, yMm } of this.#places) {
      const [column, row] = pixelOf(this.#map, xMm, yMm)!
      this.#sampler.fill(column, row, this.#site)
      change(this.#site)
      aim(light, xMm - widthMm / 2, yMm - heightMm / 2, this.#site)
      shadeAll(this.#site, light, this.#sets, this.#one)
      for (let c = 0; c < 3; c++) sum[c]! += this.#one[c]!
    }
    const n = this.#places.length
    return [sum[0] / n, sum[1] / n, sum[2] / n]
  }
}

/** Column and row of the map's pixel at a place; null beside the panel. */
export function pixelOf(
  { width, height, widthMm, heightMm }: Pick<MaterialMap, 'width' | 'height' | 'widthMm' | 'heightMm'>,
  xMm: number,
  yMm: number,
): readonly [column: number, row: number] | null {
  if (!(xMm >= 0 && yMm >= 0 && xMm <= widthMm && yMm <= heightMm)) return null
  return [
    Math.min(width - 1, Math.floor((xMm / widthMm) * width)),
    Math.min(height - 1, Math.floor((1 - yMm / heightMm) * height)),
  ]
}

/**
 * Places of a round area, its middle first: rings of 24, so that turning the area by 15° meets the same places again.
 * @param radiusMm 0 = the middle alone
 */
export function areaPlaces({ xMm, yMm }: Place, radiusMm: number): readonly Place[] {
  if (radiusMm === 0) return [{ xMm, yMm }]
  return [
    { xMm, yMm },
    ...[0.35, 0.6, 0.8, 0.95].flatMap(part =>
      Array.from({ length: areaSpokes }, (_, i) => {
        const a = (2 * Math.PI * i) / areaSpokes
        return { xMm: xMm + part * radiusMm * Math.cos(a), yMm: yMm + part * radiusMm * Math.sin(a) }
      }),
    ),
  ]
}

export const areaSpokes = 24
