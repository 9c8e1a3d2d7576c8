import type { LampPose, PanelPose } from './scene.ts'

/** x right, y up, z out of the print side, mm. */
export type Vec3 = readonly [number, number, number]

/** Rotation from the panel's frame to the table's; rows. Orthonormal, so its inverse is its transpose. */
export type Rotation = readonly [Vec3, Vec3, Vec3]

/** Where lamp and eye are, seen from the panel: the only frame the optics knows. Origin in the panel's middle. */
export interface Standing {
  readonly rotation: Rotation
  readonly lamp: Vec3
  readonly eye: Vec3
}

/** Lamp and eye in the panel's frame. The eye stands on the table's z axis at `eyeDistanceMm` > 0. */
export function stand(lamp: LampPose, pose: PanelPose, eyeDistanceMm: number): Standing {
  const rotation = panelRotation(pose)
  return {
    rotation,
    lamp: toPanel(rotation, lampPosition(lamp)),
    eye: toPanel(rotation, [0, 0, eyeDistanceMm]),
  }
}

/**
 * Table ← panel: turn about the normal (counter-clockwise seen from the print side), then tilt the top away about x,
 * then the right side away about y.
 */
export function panelRotation(pose: PanelPose): Rotation {
  const [ct, st] = cosSin(pose.turnDeg)
  const [cf, sf] = cosSin(pose.tiltForwardDeg)
  const [cs, ss] = cosSin(pose.tiltSideDeg)
  // The product Ry(side) · Rx(−forward) · Rz(turn), written out.
  return [
    [cs * ct - ss * sf * st, -cs * st - ss * sf * ct, ss * cf],
    [cf * st, cf * ct, sf],
    [-ss * ct - cs * sf * st, ss * st - cs * sf * ct, cs * cf],
  ]
}

/** Middle of the lamp's disc in the table's frame, mm. */
export function lampPosition(lamp: LampPose): Vec3 {
  const [ca, sa] = cosSin(lamp.azimuthDeg)
  const [ce, se] = cosSin(lamp.elevationDeg)
  const d = lamp.distanceMm
  return [d * ce * ca, d * ce * sa, d * se]
}

export function toTable(r: Rotation, p: Vec3): Vec3 {
  return [dot(r[0], p), dot(r[1], p), dot(r[2], p)]
}

export function toPanel(r: Rotation, p: Vec3): Vec3 {
  return [
    r[0][0] * p[0] + r[1][0] * p[1] + r[2][0] * p[2],
    r[0][1] * p[0] + r[1][1] * p[1] + r[2][1] * p[2],
    r[0][2] * p[0] + r[1][2] * p[1] + r[2][2] * p[2],
  ]
}

const dot = (a: Vec3, b: Vec3) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

const cosSin = (deg: number): [number, number] => {
  const a = (deg * Math.PI) / 180
  return [Math.cos(a), Math.sin(a)]
}
