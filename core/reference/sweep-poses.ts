import type { PanelPose } from './scene.ts'

/** What is turned: the top away, the right side away, or the panel in its own plane. */
export type SweepAxis = 'forward' | 'side' | 'turn'

export const sweepRange: Readonly<Record<SweepAxis, readonly [fromDeg: number, toDeg: number]>> = {
  forward: [-70, 70],
  side: [-70, 70],
  turn: [-180, 180],
}

/** A pose with one of its angles replaced. */
export function turnedTo(pose: PanelPose, axis: SweepAxis, deg: number): PanelPose {
  switch (axis) {
    case 'forward':
      return { ...pose, tiltForwardDeg: deg }
    case 'side':
      return { ...pose, tiltSideDeg: deg }
    case 'turn':
      return { ...pose, turnDeg: deg }
  }
}

/** The angle of a pose that an axis sweeps, degrees. */
export function angleOf(pose: PanelPose, axis: SweepAxis): number {
  return axis === 'forward' ? pose.tiltForwardDeg : axis === 'side' ? pose.tiltSideDeg : pose.turnDeg
}

/** What the angle of a polar map is: how far the panel is turned before its top goes away, or whither it leans. */
export type PolarKind = 'turn' | 'lean'

/** Farthest tilt of a polar map, degrees. */
export const polarReachDeg = 60

/**
 * How the panel is held at a point of a polar map.
 * @param tiltDeg  from straight-on, 0..90
 * @param angleDeg `turn`: counter-clockwise from the turn of `pose`; `lean`: direction in which the panel's normal
 *                 leans, counter-clockwise from the right, the turn being that of `pose`
 */
export function polarPose(pose: PanelPose, kind: PolarKind, tiltDeg: number, angleDeg: number): PanelPose {
  if (kind === 'turn') {
    const turned = pose.turnDeg + angleDeg
    return { tiltForwardDeg: tiltDeg, tiltSideDeg: 0, turnDeg: turned - 360 * Math.round(turned / 360) }
  }
  const tilt = tiltDeg * toRad
  const angle = angleDeg * toRad
  return {
    tiltForwardDeg: Math.asin(Math.sin(tilt) * Math.sin(angle)) / toRad,
    tiltSideDeg: Math.atan2(Math.sin(tilt) * Math.cos(angle), Math.cos(tilt)) / toRad,
    turnDeg: pose.turnDeg,
  }
}

const toRad = Math.PI / 180
