import { type Camera, cameraRays, type Rays } from './camera.ts'
import { fromLeaf, type Standing } from './pose.ts'
import { type Hit, inObject, type Leaf, meet, type Solid } from './solid.ts'
import { toTable } from './vector.ts'

/** A leaf as the eye has it: the rays of a picture in its frame, and between which pixels of that picture it can lie. */
export interface LeafView {
  readonly leaf: Leaf
  readonly own: Standing
  readonly rays: Rays
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** @param width, height of the picture, pixels */
export function leafViews(
  { leaves }: Solid,
  camera: Camera,
  standing: Standing,
  eyeDistanceMm: number,
  width: number,
  height: number,
): readonly LeafView[] {
  return leaves.map(leaf => {
    const own = fromLeaf(standing, leaf)
    const { left, right, top, bottom } = partsUnder(leaf, camera, standing, eyeDistanceMm)
    return {
      leaf,
      own,
      rays: cameraRays(camera, own, width, height),
      left: left * width,
      right: right * width,
      top: top * height,
      bottom: bottom * height,
    }
  })
}

/** The leaf that the ray through pixel position (px, py) meets first; sets `hit`, which holds no hit yet. Null where it meets none. */
export function nearestLeaf<View extends LeafView>(
  views: readonly View[],
  px: number,
  py: number,
  hit: Hit,
): View | null {
  let nearest: View | null = null
  for (const view of views) {
    if (px < view.left || px > view.right || py < view.top || py > view.bottom) continue
    const [dx, dy, dz] = rayAt(view.rays, px, py)
    if (meet(view.leaf, view.rays.eye, dx, dy, dz, hit)) nearest = view
  }
  return nearest
}

/** Direction of the ray through a pixel position, a unit of depth long. */
export function rayAt(
  { corner, stepX, stepY }: Rays,
  px: number,
  py: number,
): readonly [number, number, number] {
  return [
    corner[0] + px * stepX[0] + py * stepY[0],
    corner[1] + px * stepX[1] + py * stepY[1],
    corner[2] + px * stepX[2] + py * stepY[2],
  ]
}

/** Parts of the picture's width and height between which a leaf lies; all of it where the leaf comes near the eye's plane. */
function partsUnder(leaf: Leaf, camera: Camera, { view }: Standing, eyeDistanceMm: number) {
  const bounds = { left: 1, right: 0, top: 1, bottom: 0 }
  for (const [x, y] of leaf.outline)
    for (const z of [0, -leaf.caliperMm]) {
      const [ex, ey, ez] = toTable(view, inObject(leaf, x, y, z))
      const depth = eyeDistanceMm - ez
      if (depth < eyeDistanceMm / 100) return { left: 0, right: 1, top: 0, bottom: 1 }
      const across = (ex / depth - camera.left) / (camera.right - camera.left)
      const down = (camera.top - ey / depth) / (camera.top - camera.bottom)
      bounds.left = Math.min(bounds.left, across)
      bounds.right = Math.max(bounds.right, across)
      bounds.top = Math.min(bounds.top, down)
      bounds.bottom = Math.max(bounds.bottom, down)
    }
  return bounds
}
