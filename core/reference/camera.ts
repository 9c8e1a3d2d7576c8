import { type Rotation, type Standing, toPanel, type Vec3 } from './pose.ts'
import type { Solid } from './solid.ts'

/** Free border around the untilted panel, part of its size, all sides together. */
export const margin = 0.12

/** A closer look: magnification of the whole view, and the place of that view in its middle, in halves of its height. */
export interface Zoom {
  readonly scale: number
  readonly x: number
  readonly y: number
}

export const wholeView: Zoom = { scale: 1, x: 0, y: 0 }

/** A pinhole at the eye, looking at the panel's middle: tangents of the picture's edges. */
export interface Camera {
  readonly left: number
  readonly right: number
  readonly bottom: number
  readonly top: number
}

/**
 * The camera that shows the untilted panel whole with its margin, whatever the picture's shape, or a part of that.
 * @param aspect width / height of the picture
 */
export function frameCamera(
  panel: Pick<Solid, 'widthMm' | 'heightMm' | 'nearMm'>,
  eyeDistanceMm: number,
  aspect: number,
  zoom: Zoom = wholeView,
): Camera {
  const { widthMm, heightMm, nearMm = 0 } = panel
  // An eye that all but touches the object sees only a part of it in any frame.
  const distance = Math.max(eyeDistanceMm - nearMm, eyeDistanceMm / 2)
  const whole = (Math.max(heightMm, widthMm / aspect) * (1 + margin)) / 2 / distance
  const half = whole / zoom.scale
  const x = whole * zoom.x
  const y = whole * zoom.y
  return { left: x - half * aspect, right: x + half * aspect, bottom: y - half, top: y + half }
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
  const { view, eye } = standing
  return {
    eye,
    corner: toPanel(view, [camera.left, camera.top, -1]),
    ...pixelSteps(camera, view, width, height),
  }
}

/** Change of the ray from one pixel to its neighbour on the right and below, panel frame. */
export function pixelSteps(camera: Camera, view: Rotation, width: number, height: number) {
  return {
    stepX: toPanel(view, [(camera.right - camera.left) / width, 0, 0]),
    stepY: toPanel(view, [0, (camera.bottom - camera.top) / height, 0]),
  }
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
