import type { PerspectiveCamera } from 'three'
import type { Camera } from '../../core/reference/camera.ts'

/** Puts the eye before the picture, and aims it through one place of every pixel. */
export function placeEye(
  camera: PerspectiveCamera,
  frame: Camera,
  eyeDistanceMm: number,
  { width, height, taken, grid }: Sample,
): void {
  const [i, j] = sampleCell(taken, grid)
  const dx = (((i + 0.5) / grid - 0.5) * (frame.right - frame.left)) / width
  const dy = (((j + 0.5) / grid - 0.5) * (frame.bottom - frame.top)) / height
  const near = eyeDistanceMm / 100
  const far = eyeDistanceMm * 10
  camera.projectionMatrix.makePerspective(
    near * (frame.left + dx),
    near * (frame.right + dx),
    near * (frame.top + dy),
    near * (frame.bottom + dy),
    near,
    far,
  )
  camera.projectionMatrixInverse.copy(camera.projectionMatrix).invert()
  camera.position.z = eyeDistanceMm
}

/** Which sample of a picture. */
export interface Sample {
  /** Pixels of the picture. */
  readonly width: number
  readonly height: number
  /** Samples before this one. */
  readonly taken: number
  /** Samples along each side of a pixel. */
  readonly grid: number
}

/** Column and row in the pixel of sample `taken`: one in each quarter of the pixel before the second in any. */
function sampleCell(taken: number, grid: number): readonly [number, number] {
  if (grid === 1) return [0, 0]
  const half = grid / 2
  const quarter = taken % 4
  const inside = Math.floor(taken / 4)
  return [(quarter % 2) * half + (inside % half), Math.floor(quarter / 2) * half + Math.floor(inside / half)]
}
