import { type Camera, cameraRays, frameCamera, panelPoint, type Zoom } from '../../core/reference/camera.ts'
import { type Standing, standIn, toTable } from '../../core/reference/pose.ts'
import type { Scene } from '../../core/reference/scene.ts'

/** The view of one moment: from window pixels to the panel and back. */
export interface Look {
  readonly camera: Camera
  readonly standing: Standing
  readonly eyeDistanceMm: number
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
    camera: frameCamera(panel, eyeDistanceMm, width / Math.max(1, height), zoom),
    standing: standIn(scene),
    eyeDistanceMm,
    panel,
    width,
    height,
  }
}

/** The spot under a pixel, mm from the panel's lower left corner, y up; null beside the panel. */
export function spotUnder(look: Look, x: number, y: number): { xMm: number; yMm: number } | null {
  const point = panelPoint(cameraRays(look.camera, look.standing, look.width, look.height), x, y)
  if (point === null) return null
  const xMm = point[0] + look.panel.widthMm / 2
  const yMm = point[1] + look.panel.heightMm / 2
  const inside = xMm >= 0 && xMm <= look.panel.widthMm && yMm >= 0 && yMm <= look.panel.heightMm
  return inside ? { xMm, yMm } : null
}

/** The pixel over a spot, CSS pixels from the picture's upper left. */
export function pixelOver(look: Look, xMm: number, yMm: number): readonly [number, number] {
  const { camera, standing, panel, eyeDistanceMm } = look
  const [x, y, z] = toTable(standing.view, [xMm - panel.widthMm / 2, yMm - panel.heightMm / 2, 0])
  const depth = eyeDistanceMm - z
  return [
    ((x / depth - camera.left) / (camera.right - camera.left)) * look.width,
    ((camera.top - y / depth) / (camera.top - camera.bottom)) * look.height,
  ]
}
