import type { Groove } from './groove.ts'
import type { SpotInk } from './ink.ts'
import type { Printing } from './print.ts'

/** What lies at one spot: the input of the appearance model. Everything above the foil, from the foil up. */
export interface Stack {
  /** 1 = metal, 0 = bare board. */
  readonly metal: number
  readonly gratings: readonly Grating[]
  readonly whites: readonly {
    readonly coverage: number
    /** Contrast ratio of the solid, one hit. */
    readonly opacity: number
    readonly hits: number
    /** How a coverage below 1 lies; left out: as dots. */
    readonly screen?: WhiteScreen
    /** Unevenness of the coat: rms part of its scattering strength; left out: none. */
    readonly mottle?: number
  }[]
  /** The coat's unevenness at this spot, rms 1 and mean 0 over the carton; left out: 0. */
  readonly unevenness?: number
  /** A contrast chart in place of the bare board: its reflectance as an instrument reads it, 0..1. */
  readonly chart?: number
  /** Ink 0..1. */
  readonly cmyk: readonly [number, number, number, number]
  readonly spots: readonly (SpotInk & { readonly coverage: number })[]
  readonly varnish: number
  /** How the inks print; left out: as `plainPrinting` says. */
  readonly printing?: Printing
}

/** Dots of the solid with gaps between, or a film that is thinner throughout. */
export type WhiteScreen = 'dots' | 'even'

export interface Grating {
  /** Groove spacing, nm. */
  readonly pitch: number
  /** Direction across the grooves, radians from the panel's right, counter-clockwise, seen from the print side. */
  readonly azimuth: number
  /** Peak to valley, nm. */
  readonly grooveDepth: number
  readonly groove: Groove
  /** Part of the area that carries the grating, 0..1; the rest is mirror. */
  readonly share: number
  /** Standard deviation of the grating vector along and across itself, cycles/nm. */
  readonly spreadAlong: number
  readonly spreadAcross: number
  /** Covariance of the vector along and across itself, cycles²/nm²; left out: 0. */
  readonly spreadCovariance?: number
  /** Number of the view that it is, from 1; 0 or left out: it is none of several views. */
  readonly view?: number
}
