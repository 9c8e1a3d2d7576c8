import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { cameraRays, frameCamera, type Rays, wholeView, type Zoom } from './camera.ts'
import { footprintLevel } from './level.ts'
import { aim, type Light, lightOf } from './light.ts'
import { groundOf, layOf } from './overlay-lay.ts'
import { LeafSampler } from './overlay-sample.ts'
import { standIn } from './pose.ts'
import { SolidPicture } from './render-solid.ts'
import { MapSampler } from './sample.ts'
import type { Scene } from './scene.ts'
import { emptySite, type Site, shadeAll } from './shade.ts'
import { OverlayShade } from './shade-overlay.ts'

/** The picture asked for; a tile of it is rendered at a time. */
export interface PictureSize {
  readonly width: number
  readonly height: number
  /** Samples a pixel along each side, ≥ 1: n × n rays on an even grid. */
  readonly grid: number
  readonly zoom?: Zoom
}

/** Rows of the picture, `top` included, `bottom` not. */
export interface Tile {
  readonly top: number
  readonly bottom: number
}

/**
 * One tile of the exact picture: for each pixel X, Y, Z (units of perfect white under all lamps in the middle of
 * the untilted panel, mean over the samples that met the panel) and the part of the samples that met it, 0..1.
 * @param pyramid the map, then each level half the size of the one before
 * @param sets    tables of each spectrum among the lamps, as `bakingsOf` names them
 */
export function renderTile(
  scene: Scene,
  pyramid: readonly MaterialMap[],
  sets: readonly Tables[],
  size: PictureSize,
  tile: Tile,
): Float32Array {
  const map = pyramid[0]!
  const n = size.grid
  const standing = standIn(scene)
  const { solid } = scene.leaf === undefined ? scene : {}
  const aspect = size.width / size.height
  const camera = frameCamera(solid ?? map, scene.view.eyeDistanceMm, aspect, size.zoom ?? wholeView)
  // Rays of the fine picture, n times as wide and high: its pixels are the samples, so their footprint is the sample's.
  const rays = cameraRays(camera, standing, size.width * n, size.height * n)
  const light = lightOf(scene, standing)
  const samplers = pyramid.map(level => new MapSampler(level))
  const [first, ...more] = sets
  if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
  const site = emptySite(first, ...more)
  const out = new Float32Array((tile.bottom - tile.top) * size.width * 4)
  const rowSize = size.width * 4
  if (solid !== undefined) {
    const ground = { pyramid, samplers, sets, site }
    const picture = new SolidPicture(
      scene,
      solid,
      ground,
      camera,
      standing,
      size.width * n,
      size.height * n,
      n,
    )
    for (let row = tile.top; row < tile.bottom; row++) picture.drawRow(row, out, (row - tile.top) * rowSize)
    return out
  }
  if (rays.eye[2] <= 0) return out
  const lay = layOf(scene, map)
  const overlay =
    lay === null
      ? null
      : new OverlayShade(
          { lay, light, sampler: new LeafSampler(pyramid, samplers), sets, under: groundOf(scene) },
          site,
        )
  const picture: Picture = {
    map,
    pyramid,
    samplers,
    rays,
    light,
    sets,
    site,
    overlay,
    width: size.width,
    grid: n,
  }
  // Row by row, so that the engine has a function to make fast before the picture is over.
  for (let row = tile.top; row < tile.bottom; row++) renderRow(picture, row, out, (row - tile.top) * rowSize)
  return out
}

/** What all rows of a picture share. */
interface Picture {
  readonly map: MaterialMap
  readonly pyramid: readonly MaterialMap[]
  readonly samplers: readonly MapSampler[]
  readonly rays: Rays
  readonly light: Light
  readonly sets: readonly Tables[]
  readonly site: Site
  /** Where the leaves lie apart. */
  readonly overlay: OverlayShade | null
  readonly width: number
  readonly grid: number
}

const light3 = new Float64Array(3)

/** @param to where the row begins in `out` */
function renderRow(picture: Picture, row: number, out: Float32Array, to: number): void {
  const { map, pyramid, samplers, rays, light, sets, site, overlay, width: columns, grid: n } = picture
  const { widthMm, heightMm, pixelsPerMm } = map
  const [eyeX, eyeY, eyeZ] = rays.eye
  const [cornerX, cornerY, cornerZ] = rays.corner
  const [rightX, rightY, rightZ] = rays.stepX
  const [downX, downY, downZ] = rays.stepY
  for (let column = 0; column < columns; column++, to += 4) {
    let X = 0
    let Y = 0
    let Z = 0
    let met = 0
    for (let j = 0; j < n; j++)
      for (let i = 0; i < n; i++) {
        const px = column * n + i + 0.5
        const py = row * n + j + 0.5
        const dz = cornerZ + px * rightZ + py * downZ
        if (dz >= 0) continue
        const depth = -eyeZ / dz
        const kx = (cornerX + px * rightX + py * downX) / dz
        const ky = (cornerY + px * rightY + py * downY) / dz
        const x = eyeX - eyeZ * kx
        const y = eyeY - eyeZ * ky
        const u = x / widthMm + 0.5
        const v = 0.5 - y / heightMm
        if (overlay === null && (u < 0 || u >= 1 || v < 0 || v >= 1)) continue
        const level = footprintLevel(rays, depth, kx, ky, pixelsPerMm, pyramid.length)
        if (overlay === null) {
          const { width, height } = pyramid[level]!
          samplers[level]!.fill((u * width) | 0, (v * height) | 0, site)
          aim(light, x, y, site)
          shadeAll(site, light, sets, light3)
        } else if (!overlay.shade(x, y, kx, ky, level, light3)) continue
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
