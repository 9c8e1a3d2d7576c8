import { lampPosition, panelRotation, type Vec3 } from '../../reference/pose.ts'
import type { LampPose, PanelPose, Scene } from '../../reference/scene.ts'

/**
 * How to hold the object, turned so, that a face of it shows the lamp as a mirror does: its normal then halves the angle
 * between lamp and eye, both seen from the middle of the object. Null where no tilt does.
 * @param normal of the face, object's frame
 */
export function mirrorPose(
  normal: Vec3,
  lamp: LampPose,
  eyeAt: Scene['view']['eyeAt'],
  turnDeg: number,
): PanelPose | null {
  const { sideDeg, riseDeg } = eyeAt ?? { sideDeg: 0, riseDeg: 0 }
  // The eye stands where the normal of a panel so tilted would point.
  const eye = panelRotation({ tiltForwardDeg: riseDeg, tiltSideDeg: sideDeg, turnDeg: 0 }).map(row => row[2])
  const away = lampPosition(lamp)
  const length = Math.hypot(...away)
  const sum = away.map((part, i) => part / length + eye[i]!)
  const size = Math.hypot(...sum)
  if (size === 0) return null
  const [x, y, z] = sum.map(part => part / size) as [number, number, number]
  const turn = turnDeg * toRad
  const a = Math.cos(turn) * normal[0] - Math.sin(turn) * normal[1]
  const b = Math.sin(turn) * normal[0] + Math.cos(turn) * normal[1]
  const c = normal[2]
  // Tilting the top away turns (b, c); its part along y must become that of the half-way direction.
  const reach = Math.hypot(b, c)
  if (Math.abs(y) > reach) return null
  const forward = Math.asin(y / reach) - Math.atan2(b, c)
  const deep = Math.cos(forward) * c - Math.sin(forward) * b
  const side = Math.atan2(x, z) - Math.atan2(a, deep)
  return { tiltForwardDeg: wrapped(forward / toRad), tiltSideDeg: wrapped(side / toRad), turnDeg }
}

const toRad = Math.PI / 180
const wrapped = (deg: number): number => deg - 360 * Math.round(deg / 360)
