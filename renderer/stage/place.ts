import { type Camera, cameraRays, frameCamera, panelPoint, type Zoom } from '../../core/reference/camera.ts'
import { leafViews, nearestLeaf } from '../../core/reference/leaf-views.ts'
import { sceneOnLeaf } from '../../core/reference/on-leaf.ts'
import { type Standing, standIn, toTable } from '../../core/reference/pose.ts'
import type { Scene } from '../../core/reference/scene.ts'
import { noHit, type Solid } from '../../core/reference/solid.ts'

/** The view of one moment: from window pixels to the panel and back. */
export interface Look {
  readonly scene: Scene
  readonly camera: Camera
  readonly standing: Standing
  readonly eyeDistanceMm: number
  /** The art. */
  readonly panel: PanelSize
  /** Size of the picture, CSS pixels. */
  readonly width: number
  readonly height: number
}

export interface PanelSize {
  readonly widthMm: number
  readonly heightMm: number
}

export function lookAt(scene: Scene, panel: PanelSize, zoom: Zoom, width: number, height: number): Look {
  const { eyeDistanceMm } = scene.view
  return {
    scene,
    camera: frameCamera(scene.solid ?? panel, eyeDistanceMm, width / Math.max(1, height), zoom),
    standing: standIn(scene),
    eyeDistanceMm,
    panel,
    width,
    height,
  }
}

/** The spot of the art under a pixel, mm from its lower left corner, y up; null beside it. */
export function spotUnder(look: Look, x: number, y: number): { xMm: number; yMm: number } | null {
  const { scene, panel } = look
  const point =
    scene.solid === undefined
      ? panelPoint(cameraRays(look.camera, look.standing, look.width, look.height), x, y)
      : leafPoint(look, scene.solid, x, y)
  if (point === null) return null
  const xMm = point[0] + panel.widthMm / 2
  const yMm = point[1] + panel.heightMm / 2
  const inside = xMm >= 0 && xMm <= panel.widthMm && yMm >= 0 && yMm <= panel.heightMm
  return inside ? { xMm, yMm } : null
}

type Pixel = readonly [number, number]

/** The pixel over a spot of the art, CSS pixels from the picture's upper left; null where no leaf shows it. */
export const pixelOver = (look: Look, xMm: number, yMm: number): Pixel | null => pixelsOver(look)(xMm, yMm)

/** The same for many spots of one view. */
export function pixelsOver(look: Look): (xMm: number, yMm: number) => Pixel | null {
  const { camera, panel, eyeDistanceMm } = look
  const flat = look.scene.solid === undefined ? standIn(look.scene) : null
  return (xMm, yMm) => {
    const scene = flat === null ? sceneOnLeaf(look.scene, panel, xMm, yMm) : look.scene
    if (scene === null) return null
    const { view, offset = [0, 0, 0] } = flat ?? standIn(scene)
    const [ox, oy, oz] = offset
    const [x, y, z] = toTable(view, [xMm - panel.widthMm / 2 + ox, yMm - panel.heightMm / 2 + oy, oz])
    const depth = eyeDistanceMm - z
    return [
      ((x / depth - camera.left) / (camera.right - camera.left)) * look.width,
      ((camera.top - y / depth) / (camera.top - camera.bottom)) * look.height,
    ]
  }
}

/** Where the ray through a pixel meets the nearest leaf, if that is on its print side. */
function leafPoint(look: Look, solid: Solid, px: number, py: number): readonly [number, number] | null {
  const { camera, standing, eyeDistanceMm, width, height } = look
  const hit = noHit()
  const views = leafViews(solid, camera, standing, eyeDistanceMm, width, height)
  const nearest = nearestLeaf(views, px, py, hit)
  if (nearest === null || hit.face !== 'print') return null
  return panelPoint(nearest.rays, px, py)
}
