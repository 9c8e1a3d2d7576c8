import type { EffectSpec } from '../effects/effect.ts'
import type { IlluminantName } from '../optics/scene.ts'
import type { Amount, RoleName, Target } from '../roles/role.ts'

export const jobFormat = 'rakelight-job'
export const jobVersion = 1

/** A saved job. Holds nothing that can be recomputed; angles in degrees, lengths in mm. */
export interface Job {
  readonly format: typeof jobFormat
  readonly version: typeof jobVersion
  readonly art: {
    /** Relative to the job file, forward slashes. */
    readonly path: string
    readonly sha256: string
  }
  readonly panel: {
    /** Finished size, mm. The art is stretched over it. */
    readonly widthMm: number
    readonly heightMm: number
    readonly resolutionPpi: number
  }
  /** What the user set by hand; everything else follows from the rules. */
  readonly roles: readonly RoleChoice[]
  /** Words the user taught: a layer whose name has the word gets the role. */
  readonly aliases: readonly { readonly word: string; readonly role: RoleName }[]
  readonly effects: readonly { readonly target: Target; readonly effect: EffectSpec }[]
  readonly whites: readonly {
    readonly target: Target
    /** Measured opacity of the solid, 0..1. */
    readonly opacity: number
    readonly hits: number
  }[]
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
  readonly paths: readonly LampPath[]
}

export interface RoleChoice {
  readonly target: Target
  readonly role: RoleName
  readonly amount: Amount | null
}

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

export interface LampPath {
  readonly name: string
  readonly loop: boolean
  readonly keys: readonly {
    readonly timeS: number
    readonly lamp: LampPose
    readonly pose: PanelPose
  }[]
}
