import { type Rotation, type Standing, toPanel, type Vec3 } from './pose.ts'

/** Free border around the untilted panel, part of its size, all sides together. */
export const margin = 0.12

/** A pinhole at the eye, looking down the table's z axis. */
export interface Camera {
  /** Tangents of half the picture's angle, across and up. */
  readonly tanX: number
  readonly tanY: number
}

/** The camera that shows the untilted panel whole with its margin, whatever the picture's shape. `aspect` = width / height. */
export function frameCamera(
  widthMm: number,
  heightMm: number,
  eyeDistanceMm: number,
  aspect: number,
): Camera {
  const half = (Math.max(heightMm, widthMm / aspect) * (1 + margin)) / 2
  return { tanX: (half / eyeDistanceMm) * aspect, tanY: half / eyeDistanceMm }
}

/**
 * Rays of a picture in the panel's frame. The ray through pixel position (x, y), in pixels from the upper left with
 * pixel middles at ½, is `corner + x·stepX + y·stepY`; it starts at the eye and advances 1 mm of depth a unit.
 */
export interface Rays {
  readonly eye: Vec3
  readonly corner: Vec3
  readonly stepX: Vec3
  readonly stepY: Vec3
}

export function cameraRays(camera: Camera, standing: Standing, width: number, height: number): Rays {
  const turned = (v: Vec3) => toPanel(standing.rotation, v)
  return {
    eye: standing.eye,
    corner: turned([-camera.tanX, camera.tanY, -1]),
    stepX: pixelStepX(camera, standing.rotation, width),
    stepY: pixelStepY(camera, standing.rotation, height),
  }
}

/** Change of the ray from one pixel to the next one on its right, panel frame. */
export function pixelStepX(camera: Camera, rotation: Rotation, width: number): Vec3 {
  return toPanel(rotation, [(2 * camera.tanX) / width, 0, 0])
}

/** Change of the ray from one pixel to the next one below, panel frame. */
export function pixelStepY(camera: Camera, rotation: Rotation, height: number): Vec3 {
  return toPanel(rotation, [0, (-2 * camera.tanY) / height, 0])
}

/** Where the ray through pixel position (x, y) meets the print side, mm from the panel's middle; null where it does not. */
export function panelPoint(rays: Rays, x: number, y: number): readonly [number, number] | null {
  const { eye, corner, stepX, stepY } = rays
  const dz = corner[2] + x * stepX[2] + y * stepY[2]
  if (eye[2] <= 0 || dz >= 0) return null
  const t = -eye[2] / dz
  return [
    eye[0] + t * (corner[0] + x * stepX[0] + y * stepY[0]),
    eye[1] + t * (corner[1] + x * stepX[1] + y * stepY[1]),
  ]
}
