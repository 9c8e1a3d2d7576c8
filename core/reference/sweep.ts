import type { XYZ } from '../color/xyz.ts'
import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { aim, type Light, lightOf } from './light.ts'
import { crossingOf, groundOf, type LaidLeaf, layOf } from './overlay-lay.ts'
import { emptyCrossed, LeafSampler } from './overlay-sample.ts'
import { type Standing, standIn } from './pose.ts'
import { MapSampler } from './sample.ts'
import type { PanelPose, Scene } from './scene.ts'
import { emptySite, type Site, shadeAll } from './shade.ts'
import { OverlayShade } from './shade-overlay.ts'

/** Mm from the panel's lower left corner, y up. */
export interface Place {
  readonly xMm: number
  readonly yMm: number
}

/**
 * What the eye sees at some places, the panel held one way after the other: the pixel of the exact picture there, without
 * the picture. Places beside the panel do not count. Where leaves lie apart a place is one of the board's, and what is
 * seen is all that the eye's ray to it meets.
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
    const scene = this.#held(pose)
    const standing = standIn(scene)
    const light = lightOf(scene, standing)
    const lay = layOf(scene, this.#map)
    if (lay === null)
      return this.#mean(standing, (x, y, column, row, out) => {
        this.#sampler.fill(column, row, this.#site)
        this.#shade(light, x, y, out)
        return true
      })
    const sampler = new LeafSampler([this.#map], [this.#sampler])
    const ground = { lay, light, sampler, sets: this.#sets, under: groundOf(scene) }
    const overlay = new OverlayShade(ground, this.#site)
    const [eyeX, eyeY, eyeZ] = standing.eye
    return this.#mean(standing, (x, y, _column, _row, out) =>
      overlay.shade(x, y, (eyeX - x) / eyeZ, (eyeY - y) / eyeZ, 0, out),
    )
  }

  /** The same inks and varnish on white board: what they are without metal, holography and white ink. */
  onWhite(pose: PanelPose): XYZ | null {
    const scene = this.#held(pose)
    const standing = standIn(scene)
    const light = lightOf(scene, standing)
    const site = this.#site
    const lay = layOf(scene, this.#map)
    return this.#mean(standing, (x, y, column, row, out) => {
      this.#sampler.fill(column, row, site)
      if (lay !== null) this.#inksOf(lay.inks, standing, x, y)
      site.metal = 0
      site.gratings = 0
      site.whites.fill(0)
      this.#shade(light, x, y, out)
      return true
    })
  }

  /** Sets the inks where the eye's ray to a place of the board crosses their leaf. */
  #inksOf(inks: LaidLeaf, { eye }: Standing, x: number, y: number): void {
    const site = this.#site
    const crossed = emptyCrossed(site)
    const at = crossingOf(inks, eye, x, y)
    if (at !== null) new LeafSampler([this.#map], [this.#sampler]).inks(inks, ...at, 0, crossed)
    site.inks.set(crossed.inks)
    site.spots.set(crossed.spots)
  }

  #held(pose: PanelPose): Scene {
    return { ...this.#scene, view: { ...this.#scene.view, pose } }
  }

  #shade(light: Light, x: number, y: number, out: Float64Array): void {
    aim(light, x, y, this.#site)
    shadeAll(this.#site, light, this.#sets, out)
  }

  /** @param seen false where nothing is met; x and y from the panel's middle */
  #mean(
    { eye }: Standing,
    seen: (x: number, y: number, column: number, row: number, out: Float64Array) => boolean,
  ): XYZ | null {
    if (eye[2] <= 0) return null
    const { widthMm, heightMm } = this.#map
    const sum: [number, number, number] = [0, 0, 0]
    let n = 0
    for (const { xMm, yMm } of this.#places) {
      const [column, row] = pixelOf(this.#map, xMm, yMm)!
      if (!seen(xMm - widthMm / 2, yMm - heightMm / 2, column, row, this.#one)) continue
      for (let c = 0; c < 3; c++) sum[c]! += this.#one[c]!
      n++
    }
    return n === 0 ? null : [sum[0] / n, sum[1] / n, sum[2] / n]
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
