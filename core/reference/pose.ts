import type { EyeAt, LampPose, PanelPose, Scene } from './scene.ts'
import type { Leaf } from './solid.ts'
import { minus, type Rotation, times, toPanel, type Vec3 } from './vector.ts'

export { type Rotation, toPanel, toTable, type Vec3 } from './vector.ts'

/** Where lamp and eye are, seen from the panel: the only frame the optics knows. Origin in the panel's middle. */
export interface Standing {
  /** Table ← panel. */
  readonly rotation: Rotation
  /** Eye's frame ← panel: its z axis points from the panel's middle to the eye, its x axis lies level. */
  readonly view: Rotation
  readonly lamp: Vec3
  readonly eye: Vec3
  /** Origin of this frame seen from that of the rotation, in its own axes, mm; nought for a panel, a leaf's own for a leaf. */
  readonly offset?: Vec3
}

/** Lamp and eye in the panel's frame; `eyeDistanceMm` > 0. Without `eyeAt` the eye stands on the table's z axis. */
export function stand(lamp: LampPose, pose: PanelPose, eyeDistanceMm: number, eyeAt?: EyeAt): Standing {
  const rotation = panelRotation(pose)
  const view = eyeAt === undefined ? rotation : seenFrom(eyeAt, rotation)
  return {
    rotation,
    view,
    lamp: toPanel(rotation, lampPosition(lamp)),
    eye: toPanel(view, [0, 0, eyeDistanceMm]),
  }
}

/** The hand lamp and the eye of a scene. */
export function standIn({ light, view, leaf }: Pick<Scene, 'light' | 'view' | 'leaf'>): Standing {
  const whole = stand(light.lamps[0].pose, view.pose, view.eyeDistanceMm, view.eyeAt)
  return leaf === undefined ? whole : fromLeaf(whole, leaf)
}

/** Where lamp and eye are, seen from a leaf of the object instead of the object. */
export function fromLeaf(
  { rotation, view, lamp, eye }: Standing,
  { turn, shift }: Pick<Leaf, 'turn' | 'shift'>,
): Standing {
  const offset = toPanel(turn, shift)
  return {
    rotation: times(rotation, turn),
    view: times(view, turn),
    lamp: minus(toPanel(turn, lamp), offset),
    eye: minus(toPanel(turn, eye), offset),
    offset,
  }
}

/** Eye's frame ← panel. An eye that has gone to the right sees what a panel turned away on the right would show. */
function seenFrom({ sideDeg, riseDeg }: EyeAt, rotation: Rotation): Rotation {
  const [cs, ss] = cosSin(sideDeg)
  const [cr, sr] = cosSin(riseDeg)
  // Table ← eye's frame: raise about x, then go to the side about y.
  const [x, y, z]: Rotation = [
    [cs, 0, -ss],
    [-ss * sr, cr, -cs * sr],
    [ss * cr, sr, cs * cr],
  ]
  const row = (axis: Vec3): Vec3 => toPanel(rotation, axis)
  return [row(x), row(y), row(z)]
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

const cosSin = (deg: number): [number, number] => {
  const a = (deg * Math.PI) / 180
  return [Math.cos(a), Math.sin(a)]
}
