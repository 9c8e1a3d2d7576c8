import type { PanelPose } from '../../../core/reference/scene.ts'
import type { PolarKind, SweepAxis } from '../../../core/reference/sweep-poses.ts'

/** Light of a spot as it is drawn. */
export interface SeenLight {
  /** Over that of paper white in the panel's middle. */
  readonly luminance: number
  /** On this screen. */
  readonly css: string
}

/** A spot along one angle; null where it is out of sight. */
export interface SweepCurve {
  readonly axis: SweepAxis
  readonly points: readonly { readonly deg: number; readonly seen: SeenLight | null }[]
}

/** A spot or an area by tilt and angle: rings from the inside, each counter-clockwise from the right. */
export interface PolarLight {
  readonly kind: PolarKind
  readonly radiusMm: number
  readonly rings: readonly {
    readonly tiltDeg: number
    readonly seen: readonly (SeenLight | null)[]
  }[]
  /** All rings are there. */
  readonly whole: boolean
}

/** A way to hold the panel, and what is seen then. */
export interface HeldLight extends SeenLight {
  readonly pose: PanelPose
}

export interface Extremes {
  readonly brightest: HeldLight
  readonly darkest: HeldLight
}

/** Pixels of the map around a spot, row by row from the upper left. */
export interface LoupeView {
  /** Pixels a side; odd, the spot in the middle one. */
  readonly side: number
  /** Length of a pixel's side, mm. */
  readonly pixelMm: number
  readonly planes: readonly LoupePlane[]
}

export interface LoupePlane {
  readonly name: string
  /** A colour of each pixel, null beside the panel. */
  readonly css: readonly (string | null)[]
  /** What each pixel holds, in words. */
  readonly says: readonly string[]
}
