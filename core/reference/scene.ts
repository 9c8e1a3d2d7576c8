import type { Lab } from '../color/lab.ts'
import type { LightSource, SampledLight } from '../color/spectrum.ts'
import type { IlluminantName } from '../optics/scene.ts'
import type { Overlay } from './overlay.ts'
import type { Leaf, Solid } from './solid.ts'

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

/** Where the eye stands on its sphere around the panel's middle, from straight above: to the right, then up. */
export interface EyeAt {
  readonly sideDeg: number
  readonly riseDeg: number
}

/** Outline of a lamp; it always faces the middle of the untilted panel. A strip or a window is a rectangle. */
export type LampForm =
  /** Its diameter is part of the pose. */
  | { readonly kind: 'disc' }
  | {
      readonly kind: 'rectangle'
      readonly widthMm: number
      readonly heightMm: number
      /** Turn about the line to the panel's middle; at 0 the width lies level. */
      readonly rollDeg: number
    }

export interface Lamp {
  readonly name: string
  readonly pose: LampPose
  readonly form: LampForm
  readonly illuminant: IlluminantName
  /** Spectrum of the user's own, which then stands for the illuminant; null = the illuminant's. */
  readonly spectrum: SampledLight | null
  /** Illuminance that this lamp gives the untilted panel in its middle. */
  readonly lux: number
}

/** The metallised board, as it is assumed or was measured. */
export interface BoardSpec {
  readonly wavinessMrad: number
  /** Rms slope of the bare top surface. */
  readonly glossRoughness: number
  /** Grating cell along and across the grating vector. */
  readonly cellUm: readonly [number, number]
  /** Metal transferred to the board, or a metallised film glued on and left there. */
  readonly build: 'transfer' | 'laminated'
  /** What lies between eye and relief: the lacquer it was pressed into, or the film below it. */
  readonly readFrom: 'lacquer' | 'film'
  /** Refractive index of what lies on the metal. */
  readonly coatIndex: number
  /** Coloured lacquer over the metal by the colour of the flat mirror, L*a*b* D50; null = clear. */
  readonly tint: { readonly name: string; readonly lab: Lab } | null
  /** Rms slope of the varnished top surface: gloss varnish about 0.02, matte 0.2 and more. */
  readonly varnishRoughness: number
  /** Rms angle by which a matte varnish spreads what passes. */
  readonly varnishScatterMrad: number
  /** Rms height of the metal's own roughness. */
  readonly microRoughnessNm: number
  /** Rms spread of the light that this roughness takes from the orders, in direction cosines. */
  readonly hazeSpread: number
  /** Thickness of the whole board. */
  readonly caliperMm: number
}

/** The print condition: what a colour means on white, and how tones grow on foil. */
export interface PrintSpec {
  /** Profile of the print condition, relative to the job; null = the one that ships. */
  readonly profile: { readonly path: string; readonly sha256: string } | null
  readonly intent: 'perceptual' | 'relative' | 'saturation' | 'absolute'
  readonly blackPoint: boolean
  /** Tone value that cyan, magenta, yellow, black gain on foil at 50 %, 0..0.35. */
  readonly toneGain: readonly [number, number, number, number]
}

/** All that a picture needs besides the map. A job is one; a frame of a lamp path is a job with lamp and pose replaced. */
export interface Scene {
  /** What stands on the table; the flat panel when left out. */
  readonly solid?: Solid
  /** The one leaf that is looked at, when light is asked for there and not over the whole object. */
  readonly leaf?: Leaf
  readonly board: BoardSpec
  readonly whiteInk: {
    /** Mean cosine of scattering in the white's pigment, 0..0.95. */
    readonly forwardness: number
  }
  readonly print: PrintSpec
  readonly light: {
    /** The first is the one in the hand, which lamp paths move. */
    readonly lamps: readonly [Lamp, ...Lamp[]]
    /** Brightest part of the room, in paper white under all lamps. */
    readonly roomLevel: number
  }
  readonly view: {
    readonly pose: PanelPose
    readonly eyeDistanceMm: number
    /** Only on a path; left out = straight above the table. */
    readonly eyeAt?: EyeAt
    /** Stops; 0 puts paper white under `anchorLux` at 0.8 of the display's white. */
    readonly exposureStops: number
    /** Illuminance that the exposure is set for; null = all lamps of the scene. */
    readonly anchorLux: number | null
    /** Adapt the eye from the lamp's white to the screen's. */
    readonly adapt: boolean
    readonly gamut: 'srgb' | 'display-p3'
    /** White that the screen is set to. */
    readonly displayWhite: 'D65' | 'D50'
    /** How board, white and overprint lie on one another; all printed on the board when left out. */
    readonly overlay?: Overlay
  }
}

/** Most lamps of a scene. */
export const mostLamps = 6

/** What a lamp burns. */
export function sourceOf({ illuminant, spectrum }: Pick<Lamp, 'illuminant' | 'spectrum'>): LightSource {
  return spectrum ?? illuminant
}

/** The same light with the lamp in the hand somewhere else. */
export function withHandLamp(light: Scene['light'], pose: LampPose): Scene['light'] {
  const [hand, ...others] = light.lamps
  return { ...light, lamps: [{ ...hand, pose }, ...others] }
}

/** Illuminance of the untilted panel's middle under all lamps. */
export function totalLux({ lamps }: Scene['light']): number {
  return lamps.reduce((sum, lamp) => sum + lamp.lux, 0)
}
