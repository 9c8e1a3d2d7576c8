import type { Groove } from '../optics/groove.ts'
import type { Follow } from './follow.ts'
import type { Outline } from './outline.ts'
import type { Picture, PlaceMm } from './picture.ts'
import type { Register } from './register.ts'
import type { ViewImage } from './view-image.ts'
import type { ViewDesign } from './views.ts'

/** What the layer shows at a pixel, for effects that read the art. */
export interface ArtTone {
  /** Lightness 0..1 and hue in turns 0..1 of the layer's colour; chroma 0..1 (hue is undefined at 0). */
  readonly lightness: number
  readonly hue: number
  readonly chroma: number
}

/** The grating an effect wants at one place. */
export interface GratingSample {
  /** nm, > 0 */
  pitch: number
  /** Radians, across the grooves, from the panel's right, counter-clockwise. */
  azimuth: number
  /** nm */
  grooveDepth: number
  /** 0..1; 0 where the effect leaves the foil plain */
  share: number
  /** Standard deviation of 1/pitch over its mean, and of the direction, radians. 0 unless the effect sets them. */
  spread: number
  jitter: number
}

/** The layer's place on the panel: mm from the panel's lower left corner, y up. */
export interface EffectFrame {
  readonly centerXMm: number
  readonly centerYMm: number
  readonly widthMm: number
  readonly heightMm: number
  /** Pictures from files by their asset's id, for effects that name one. */
  readonly views?: (assetId: string) => readonly ViewImage[] | undefined
  /** Shapes of the job by their id, for effects that run along one. */
  readonly outlines?: (id: string) => Outline | undefined
  /** Side of a pixel of the map, mm: what is finer is shown as its mean. Left out: nothing is too fine. */
  readonly pixelMm?: number
}

/** An effect as a job keeps it: the kind's name and its parameters, degrees and nm. */
export interface EffectSpec {
  readonly kind: string
  readonly parameters: Readonly<Record<string, unknown>>
  /** Left out: registered. */
  readonly register?: Register
  /** Left out: the effect is the same under every tone. */
  readonly follow?: Follow
}

/** One adjustable number of an effect, enough to make a control of it. */
export interface EffectControl {
  readonly key: string
  readonly label: string
  readonly unit: 'nm' | 'deg' | 'percent' | 'mm' | ''
  readonly min: number
  readonly max: number
  readonly step: number
  /** What the number does, for who does not know its name. */
  readonly says?: string
  /** Choice that makes the control matter, and its words; always when left out. */
  readonly when?: { readonly key: string; readonly values: readonly string[] }
}

/** One parameter with a few possible words. */
export interface EffectChoice {
  readonly key: string
  readonly label: string
  readonly options: readonly { readonly value: string; readonly label: string }[]
}

/** Something of an effect that will not look as it is meant; what it is about is told by who knows the layer. */
export interface EffectWarning {
  readonly code: string
  readonly message: string
  readonly fix: string
}

interface Prepared {
  readonly groove: Groove
  /** Layer whose painted area limits the effect instead of the layer's own, or null. */
  readonly maskLayerId: string | null
  readonly warnings?: readonly EffectWarning[]
}

/** One grating at each place. */
export interface GratingField extends Prepared {
  readonly kind: 'grating'
  /** Whether `at` looks at the layer's colour, so that it must be asked at every pixel of the art. */
  readonly readsArt: boolean
  /** The grating at a place of the panel, mm from its lower left corner, y up; returns `out`. */
  at(xMm: number, yMm: number, tone: ArtTone, out: GratingSample): GratingSample
}

/** Several gratings that share every place, each with its own part of it. */
export interface BesideField extends Prepared {
  readonly kind: 'beside'
  /** At most as many as a map holds at one place; their shares together are at most 1. */
  readonly parts: readonly GratingField[]
}

/** Views side by side, finer than the eye sees. */
export interface ViewField extends Prepared {
  readonly kind: 'views'
  readonly design: ViewDesign
  /** nm */
  readonly grooveDepth: number
  /** Part of the area that the views have, 0..1; each of n has an n-th of it. */
  readonly share: number
  /** `own`: only where the layer is painted or its mask is; `all`: wherever a view shines. */
  readonly within: 'own' | 'all'
  /** Where any view can shine; null where none does. */
  readonly place: PlaceMm | null
  /** How much each view shines at a place of the panel, 0..1; fills and returns `out`, one number a view. */
  at(xMm: number, yMm: number, out: Float64Array): Float64Array
}

/** A picture that an effect must see as a whole: its own layer's, or another's. */
export type Wanted = { readonly from: 'own' } | { readonly from: 'layer'; readonly id: string }

/** A field that comes of whole pictures. */
export interface PictureField extends Prepared {
  readonly kind: 'pictures'
  readonly wants: readonly Wanted[]
  /** Those of `wants` that it shows, where it only looks at the rest; left out: all. */
  readonly lends?: readonly Wanted[]
  /** @param pictures as many as it wants, in the same order */
  open(pictures: readonly Picture[]): OpenField
}

/** A field that needs nothing more. */
export type OpenField = GratingField | BesideField | ViewField

/** An effect made ready for one layer. */
export type EffectField = OpenField | PictureField

/** What a kind can be made with. */
export interface EffectLimits {
  /** Details finer than this are lost or no longer do what the kind does, mm. */
  readonly smallestMm: number
  /** Pitches that it may have, nm. */
  readonly pitchNm: readonly [finest: number, widest: number]
  /** Why, and what else to mind. */
  readonly says: string
}

/** A kind of holography: one file each. */
export interface EffectKind {
  readonly name: string
  readonly title: string
  /** What it does under light, one or two plain sentences. */
  readonly says: string
  readonly controls: readonly EffectControl[]
  readonly choices: readonly EffectChoice[]
  readonly limits: EffectLimits
  readonly defaults: Readonly<Record<string, unknown>>
  /** Parses the parameters (throws BadInput naming the parameter) and returns the field. */
  prepare(parameters: Readonly<Record<string, unknown>>, frame: EffectFrame): EffectField
}
