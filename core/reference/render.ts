import type { MaterialMap } from '../material/map.ts'
import type { Tables } from '../optics/tables.ts'
import { cameraRays, frameCamera, wholeView, type Zoom } from './camera.ts'
import { footprintLevel } from './level.ts'
import { aim, lightOf } from './light.ts'
import { stand } from './pose.ts'
import { MapSampler } from './sample.ts'
import type { Scene } from './scene.ts'
import { emptySite, shadeAll } from './shade.ts'

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
  const standing = stand(scene.light.lamps[0].pose, scene.view.pose, scene.view.eyeDistanceMm)
  const camera = frameCamera(map, scene.view.eyeDistanceMm, size.width / size.height, size.zoom ?? wholeView)
  // Rays of the fine picture, n times as wide and high: its pixels are the samples, so their footprint is the sample's.
  const rays = cameraRays(camera, standing, size.width * n, size.height * n)
  const light = lightOf(scene, standing)
  const samplers = pyramid.map(level => new MapSampler(level))
  const [first, ...more] = sets
  if (first === undefined) throw new RangeError('tables: expected one set a spectrum, got none')
  const site = emptySite(first, ...more)
  const light3 = new Float64Array(3)
  const out = new Float32Array((tile.bottom - tile.top) * size.width * 4)
  const { eye, corner, stepX, stepY } = rays
  if (eye[2] <= 0) return out

  let to = 0
  for (let row = tile.top; row < tile.bottom; row++)
    for (let column = 0; column < size.width; column++, to += 4) {
      let X = 0
      let Y = 0
      let Z = 0
      let met = 0
      for (let j = 0; j < n; j++)
        for (let i = 0; i < n; i++) {
          const px = column * n + i + 0.5
          const py = row * n + j + 0.5
          const dz = corner[2] + px * stepX[2] + py * stepY[2]
          if (dz >= 0) continue
          const depth = -eye[2] / dz
          const kx = (corner[0] + px * stepX[0] + py * stepY[0]) / dz
          const ky = (corner[1] + px * stepX[1] + py * stepY[1]) / dz
          const x = eye[0] - eye[2] * kx
          const y = eye[1] - eye[2] * ky
          const u = x / map.widthMm + 0.5
          const v = 0.5 - y / map.heightMm
          if (u < 0 || u >= 1 || v < 0 || v >= 1) continue
          const level = footprintLevel(rays, depth, kx, ky, map.pixelsPerMm, pyramid.length)
          const { width, height } = pyramid[level]!
          samplers[level]!.fill(Math.floor(u * width), Math.floor(v * height), site)
          aim(light, x, y, site)
          shadeAll(site, light, sets, light3)
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
  return out
}
