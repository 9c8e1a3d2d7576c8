import type { EyePose, LampPath, LampPose, PanelPose, PathKey } from './job.ts'

/** From the far side of the table, a hand's breadth wide at arm's length. */
const window: LampPose = { azimuthDeg: 90, elevationDeg: 60, distanceMm: 500, diameterMm: 20 }
const spot: LampPose = { azimuthDeg: 90, elevationDeg: 55, distanceMm: 1800, diameterMm: 80 }
const booth: LampPose = { ...window, elevationDeg: 75, distanceMm: 900, diameterMm: 400 }
const torch: LampPose = { ...window, distanceMm: 300, diameterMm: 5 }
const flat: PanelPose = { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }

const key = (
  timeS: number,
  lamp: LampPose,
  pose: Partial<PanelPose> = {},
  eye: EyePose | null = null,
): PathKey => ({ timeS, lamp, pose: { ...flat, ...pose }, others: [], eye, ease: 'flow' })

const tilted = (timeS: number, tiltForwardDeg: number, tiltSideDeg: number): PathKey =>
  key(timeS, window, { tiltForwardDeg, tiltSideDeg })

const across = (timeS: number, azimuthDeg: number, elevationDeg: number): PathKey =>
  key(timeS, { ...window, azimuthDeg, elevationDeg })

/** Past a shelf at 600 mm: the nearer, the closer; a little from above. */
const passing = (timeS: number, sideDeg: number): PathKey =>
  key(
    timeS,
    spot,
    {},
    {
      distanceMm: Math.round(600 / Math.cos((sideDeg * Math.PI) / 180)),
      sideDeg,
      riseDeg: 10,
    },
  )

const swept = (timeS: number, azimuthDeg: number, elevationDeg: number, distanceMm: number): PathKey =>
  key(timeS, { ...torch, azimuthDeg, elevationDeg, distanceMm })

const handTilt: LampPath = {
  name: 'Hand tilt',
  loop: true,
  keys: [tilted(0, 0, 0), tilted(4, -7, 10), tilted(8, -14, 0), tilted(12, -7, -10), tilted(16, 0, 0)],
}

const boothStill: LampPath = { name: 'Booth still', loop: true, keys: [key(0, booth)] }

/**
 * What a fresh job can play. Neither lamp nor panel turns faster than 10° a second, also between the keys:
 * lit holography that changes faster can strobe. The moving ones go round rather than back and forth, so that no
 * two of a few even frames show the same.
 */
export const defaultPaths: readonly LampPath[] = [
  handTilt,
  {
    name: 'Lamp across',
    loop: true,
    keys: [across(0, 90, 60), across(8, 20, 45), across(16, 90, 35), across(24, 160, 45), across(32, 90, 60)],
  },
  boothStill,
]

/** A path to begin with, and what it shows. */
export interface PathPreset {
  readonly path: LampPath
  readonly says: string
}

/** As slow as the paths of a fresh job. Sizes, places and times: common practice, no source. */
export const pathPresets: readonly PathPreset[] = [
  {
    path: {
      name: 'Shelf walk-by',
      loop: true,
      keys: [passing(0, -35), passing(8, 0), passing(16, 35), passing(24, 0), passing(32, -35)],
    },
    says: 'The carton stands on the shelf under a spot; you walk past it and back.',
  },
  { path: handTilt, says: 'The lamp stays; the hand tilts the carton once round.' },
  {
    path: {
      name: 'Booth',
      loop: true,
      keys: [
        key(0, booth),
        key(4, booth, { tiltForwardDeg: -10, tiltSideDeg: 8 }),
        key(8, booth, { tiltForwardDeg: -20 }),
        key(12, booth, { tiltForwardDeg: -10, tiltSideDeg: -8 }),
        key(16, booth),
      ],
    },
    says: 'Broad, even light from above while the carton is tilted: the least that holography shows.',
  },
  {
    path: {
      name: 'Torch',
      loop: true,
      keys: [
        swept(0, 90, 60, 300),
        swept(6, 45, 50, 260),
        swept(12, 90, 38, 220),
        swept(18, 135, 50, 260),
        swept(24, 90, 60, 300),
      ],
    },
    says: 'A small, near light goes round over the carton: the sharpest colours.',
  },
]
