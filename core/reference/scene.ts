import type { IlluminantName } from '../optics/scene.ts'

/** From the middle of the untilted panel: the lamp stands on the table, the panel moves in the hand. */
export interface LampPose {
  readonly azimuthDeg: number
  readonly elevationDeg: number
  readonly distanceMm: number
  readonly diameterMm: number
}

/** How the hand holds the panel: turn about its normal first, then tilt top away (+) and right side away (+). */
export interface PanelPose {
  readonly tiltForwardDeg: number
  readonly tiltSideDeg: number
  readonly turnDeg: number
}

/** All that a picture needs besides the map. A job is one; a frame of a lamp path is a job with lamp and pose replaced. */
export interface Scene {
  readonly board: {
    readonly wavinessMrad: number
    readonly glossRoughness: number
    readonly cellUm: readonly [number, number]
  }
  readonly light: {
    readonly lamp: LampPose
    readonly illuminant: IlluminantName
    /** Brightest part of the room, in paper white under the lamp. */
    readonly roomLevel: number
  }
  readonly view: {
    readonly pose: PanelPose
    readonly eyeDistanceMm: number
    /** Stops; 0 puts paper white under the lamp at 0.8 of the display's white. */
    readonly exposureStops: number
    /** Adapt the eye from the lamp's white to the screen's. */
    readonly adapt: boolean
    readonly gamut: 'srgb' | 'display-p3'
  }
}
