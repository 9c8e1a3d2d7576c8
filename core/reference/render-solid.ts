import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { boardLight } from './board-face.ts'
import type { Camera, Rays } from './camera.ts'
import { type LeafView, leafViews, nearestLeaf, rayAt } from './leaf-views.ts'
import { footprintLevel } from './level.ts'
import { aim, type Light, lightOf } from './light.ts'
import type { Standing } from './pose.ts'
import type { MapSampler } from './sample.ts'
import type { Scene } from './scene.ts'
import { type Site, shadeAll } from './shade.ts'
import { noHit, type Solid } from './solid.ts'

/** What a picture is drawn from, whatever stands on the table. */
export interface Ground {
  readonly pyramid: readonly MaterialMap[]
  readonly samplers: readonly MapSampler[]
  readonly sets: readonly Tables[]
  readonly site: Site
}

/** A leaf as the eye has it, and its light. */
interface LitLeaf extends LeafView {
  readonly light: Light
}

const light3 = new Float64Array(3)

/** The leaves of a solid, so that a row of samples can be drawn of them. */
export class SolidPicture {
  readonly #ground: Ground
  readonly #views: readonly LitLeaf[]
  readonly #grid: number
  readonly #columns: number

  /** @param width, height of the picture in samples */
  constructor(
    scene: Scene,
    solid: Solid,
    ground: Ground,
    camera: Camera,
    standing: Standing,
    width: number,
    height: number,
    grid: number,
  ) {
    this.#ground = ground
    this.#grid = grid
    this.#columns = width / grid
    const views = leafViews(solid, camera, standing, scene.view.eyeDistanceMm, width, height)
    this.#views = views.map(view => ({ ...view, light: lightOf(scene, view.own) }))
  }

  /** @param to where the row begins in `out`: X, Y, Z and part met of each pixel */
  drawRow(row: number, out: Float32Array, to: number): void {
    const n = this.#grid
    const views = this.#views.filter(view => view.bottom >= row * n && view.top <= (row + 1) * n)
    for (let column = 0; column < this.#columns; column++, to += 4) {
      let X = 0
      let Y = 0
      let Z = 0
      let met = 0
      for (let j = 0; j < n; j++)
        for (let i = 0; i < n; i++) {
          if (!this.#light(views, column * n + i + 0.5, row * n + j + 0.5)) continue
          X += light3[0]!
          Y += light3[1]!
          Z += light3[2]!
          met++
        }
      if (met === 0) continue
      out[to] = X / met
      out[to + 1] = Y / met
      out[to + 2] = Z / met
      out[to + 3] = met / (n * n)
    }
  }

  /** Light of the nearest leaf at a sample into `light3`; false where there is none. */
  #light(views: readonly LitLeaf[], px: number, py: number): boolean {
    const hit = noHit()
    const nearest = nearestLeaf(views, px, py, hit)
    if (nearest === null) return false
    const { rays, light } = nearest
    const [dx, dy, dz] = rayAt(rays, px, py)
    const x = rays.eye[0] + hit.t * dx
    const y = rays.eye[1] + hit.t * dy
    const { sets, site } = this.#ground
    if (hit.face === 'board') {
      boardLight(light, sets, x, y, rays.eye[2] + hit.t * dz, hit, light3)
      return true
    }
    this.#fill(x, y, hit.t, dx / dz, dy / dz, rays)
    aim(light, x, y, site)
    shadeAll(site, light, sets, light3)
    return true
  }

  /** Matter of a printed face; beside the art it is bare. */
  #fill(x: number, y: number, depth: number, kx: number, ky: number, rays: Rays): void {
    const { pyramid, samplers, site } = this.#ground
    const map = pyramid[0]!
    const u = x / map.widthMm + 0.5
    const v = 0.5 - y / map.heightMm
    if (u < 0 || u >= 1 || v < 0 || v >= 1) {
      makeBare(site)
      return
    }
    const level = footprintLevel(rays, depth, kx, ky, map.pixelsPerMm, pyramid.length)
    const { width, height } = pyramid[level]!
    samplers[level]!.fill((u * width) | 0, (v * height) | 0, site)
  }
}

/** Metallised board that nothing was printed on. */
function makeBare(site: Site): void {
  site.metal = 1
  site.varnish = 0
  site.unevenness = 0
  site.gratings = 0
  site.inks.fill(0)
  site.whites.fill(0)
  site.spots.fill(0)
}
