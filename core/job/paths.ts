import type { LampPath, LampPose, PanelPose } from './job.ts'

/** From the far side of the table, a hand's breadth wide at arm's length. */
const window: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
const flat: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

const tilted = (timeS: number, tiltForwardDeg: number, tiltSideDeg: number) => ({
  timeS,
  lamp: window,
  pose: { ...flat, tiltForwardDeg, tiltSideDeg },
})

const across = (timeS: number, azimuthDeg: number, elevationDeg: number) => ({
  timeS,
  lamp: { ...window, azimuthDeg, elevationDeg },
  pose: flat,
})

/**
 * What a fresh job can play. Neither lamp nor panel turns faster than 10° a second, also between the keys:
 * lit holography that changes faster can strobe. The moving ones go round rather than back and forth, so that no
 * two of a few even frames show the same.
 */
export const defaultPaths: readonly LampPath[] = [
  {
    name: 'Hand tilt',
    loop: true,
    keys: [tilted(0, 0, 0), tilted(4, -7, 10), tilted(8, -14, 0), tilted(12, -7, -10), tilted(16, 0, 0)],
  },
  {
    name: 'Lamp across',
    loop: true,
    keys: [across(0, 90, 60), across(8, 20, 45), across(16, 90, 35), across(24, 160, 45), across(32, 90, 60)],
  },
  {
    name: 'Booth still',
    loop: true,
    keys: [{ timeS: 0, lamp: { ...window, elevationDeg: 75, distanceMm: 900, diameterMm: 400 }, pose: flat }],
  },
]
