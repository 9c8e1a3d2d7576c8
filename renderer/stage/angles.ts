import type { LampPose, PanelPose } from '../../core/job/job.ts'

const toRad = Math.PI / 180

/** The panel stands straight in front of the eye. */
export const straightOn: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

/** A hand holds a panel this far off straight-on at most, degrees; past it there is nothing left to see. */
export const tiltLimitDeg = 75

/** A lamp below this stands behind the panel's own edge, degrees. */
export const lowestLampDeg = 2

/** Angle between the panel's normal and the line to the eye, degrees. */
export function tiltFromStraightOn(pose: PanelPose): number {
  const c = Math.cos(pose.tiltForwardDeg * toRad) * Math.cos(pose.tiltSideDeg * toRad)
  return Math.acos(Math.min(1, c)) / toRad
}

/** The pose after the hand has moved; it gives way softly near the limit and never passes it. */
export function tilted(from: PanelPose, forwardDeg: number, sideDeg: number): PanelPose {
  return {
    ...from,
    tiltForwardDeg: within(from.tiltForwardDeg + forwardDeg, -tiltLimitDeg, tiltLimitDeg),
    tiltSideDeg: within(from.tiltSideDeg + sideDeg, -tiltLimitDeg, tiltLimitDeg),
  }
}

/** Turned in its own plane, counter-clockwise, kept in (−180, 180]. */
export function turned(from: PanelPose, byDeg: number): PanelPose {
  return { ...from, turnDeg: aroundZero(from.turnDeg + byDeg) }
}

/** The lamp moved on its dome: azimuth goes round, elevation stops above the table and at the top. */
export function lampMoved(lamp: LampPose, azimuthDeg: number, elevationDeg: number): LampPose {
  return {
    ...lamp,
    azimuthDeg: aroundZero(lamp.azimuthDeg + azimuthDeg),
    elevationDeg: within(lamp.elevationDeg + elevationDeg, lowestLampDeg, 90),
  }
}

/**
 * The lamp on a round pad that shows the dome from above: the middle is straight above the panel, the rim the horizon,
 * equal steps outwards are equal angles. Both in units of the pad's radius, x right, y up.
 */
export function lampToPad(lamp: Pick<LampPose, 'azimuthDeg' | 'elevationDeg'>): readonly [number, number] {
  const r = (90 - lamp.elevationDeg) / 90
  return [r * Math.cos(lamp.azimuthDeg * toRad), r * Math.sin(lamp.azimuthDeg * toRad)]
}

/** The lamp at a point of the pad; points beyond the rim are brought back to it. */
export function padToLamp(x: number, y: number, lamp: LampPose): LampPose {
  const r = Math.hypot(x, y)
  const azimuthDeg = r < 1e-6 ? lamp.azimuthDeg : Math.atan2(y, x) / toRad
  return {
    ...lamp,
    azimuthDeg: aroundZero(azimuthDeg),
    elevationDeg: within(90 - 90 * r, lowestLampDeg, 90),
  }
}

/** Lines a millimetre of a pitch in nm. */
export const linesPerMm = (pitchNm: number): number => 1e6 / pitchNm

export const within = (value: number, least: number, most: number): number =>
  Math.min(most, Math.max(least, value))

/** The same angle in (−180, 180]. */
export function aroundZero(deg: number): number {
  const d = deg % 360
  return d > 180 ? d - 360 : d <= -180 ? d + 360 : d
}
