import type { EyePose, LampPath, LampPose } from './job.ts'
import { type Standpoint, samplePath } from './path.ts'

/** Above this, lit holography can strobe: what moves by itself stays below, unless it was asked to hurry. */
export const calmDegreesPerSecond = 10

/** How far lamps, panel and eye turn between two standpoints, degrees: the largest of them. */
export function travel(a: Standpoint, b: Standpoint): number {
  return Math.max(
    lampTravel(a.lamp, b.lamp),
    Math.abs(a.pose.tiltForwardDeg - b.pose.tiltForwardDeg),
    Math.abs(a.pose.tiltSideDeg - b.pose.tiltSideDeg),
    Math.abs(shortWay(a.pose.turnDeg - b.pose.turnDeg)),
    ...b.others.map((lamp, i) => {
      const before = a.others[i] ?? null
      return lamp === null || before === null ? 0 : lampTravel(before, lamp)
    }),
    eyeTravel(a.eye, b.eye),
  )
}

/** The longest step along the path from a moment, s, not above `elapsedS`, that keeps the pace calm. */
export function calmStep(path: LampPath, from: number, elapsedS: number): number {
  const most = calmDegreesPerSecond * elapsedS
  const here = samplePath(path, from)
  let step = elapsedS
  // The angle grows nearly with the step, so two or three corrections meet the limit.
  for (let i = 0; i < 12; i++) {
    const moved = travel(here, samplePath(path, from + step))
    if (moved <= most) break
    step *= (0.999 * most) / moved
  }
  return step
}

/** How far the lamp's direction turns between two places, degrees. */
export function lampTravel(a: LampPose, b: LampPose): number {
  return between([a.azimuthDeg, a.elevationDeg], [b.azimuthDeg, b.elevationDeg])
}

function eyeTravel(a: EyePose | null, b: EyePose | null): number {
  return a === null || b === null ? 0 : between([a.sideDeg, a.riseDeg], [b.sideDeg, b.riseDeg])
}

/** Angle between two directions given by longitude and latitude, degrees. */
function between(a: readonly [number, number], b: readonly [number, number]): number {
  const [la, lb] = [a[1] * toRad, b[1] * toRad]
  const c = Math.sin(la) * Math.sin(lb) + Math.cos(la) * Math.cos(lb) * Math.cos((a[0] - b[0]) * toRad)
  return Math.acos(Math.min(1, Math.max(-1, c))) / toRad
}

const toRad = Math.PI / 180

const shortWay = (deg: number): number => deg - 360 * Math.round(deg / 360)
