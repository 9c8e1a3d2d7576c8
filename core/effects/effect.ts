import type { Groove } from '../optics/groove.ts'

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
}

/** An effect as a job keeps it: the kind's name and its parameters, degrees and nm. */
export interface EffectSpec {
  readonly kind: string
  readonly parameters: Readonly<Record<string, unknown>>
}

/** One adjustable number of an effect, enough to make a control of it. */
export interface EffectControl {
  readonly key: string
  readonly label: string
  readonly unit: 'nm' | 'deg' | 'percent' | 'mm' | ''
  readonly min: number
  readonly max: number
  readonly step: number
  /** Choice that makes the control matter, and its words; always when left out. */
  readonly when?: { readonly key: string; readonly values: readonly string[] }
}

/** One parameter with a few possible words. */
export interface EffectChoice {
  readonly key: string
  readonly label: string
  readonly options: readonly { readonly value: string; readonly label: string }[]
}

/** An effect made ready for one layer. */
export interface EffectField {
  readonly groove: Groove
  /** Whether `at` looks at the layer's colour, so that it must be asked at every pixel of the art. */
  readonly readsArt: boolean
  /** Layer whose painted area limits the effect instead of the layer's own, or null. */
  readonly maskLayerId: string | null
  /** The grating at a place of the panel, mm from its lower left corner, y up; returns `out`. */
  at(xMm: number, yMm: number, tone: ArtTone, out: GratingSample): GratingSample
}

/** A kind of holography: one file each. */
export interface EffectKind {
  readonly name: string
  readonly title: string
  /** What it does under light, one or two plain sentences. */
  readonly says: string
  readonly controls: readonly EffectControl[]
  readonly choices: readonly EffectChoice[]
  readonly defaults: Readonly<Record<string, unknown>>
  /** Parses the parameters (throws BadInput naming the parameter) and returns the field. */
  prepare(parameters: Readonly<Record<string, unknown>>, frame: EffectFrame): EffectField
}
