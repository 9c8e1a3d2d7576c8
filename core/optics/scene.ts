import type { Lab } from '../color/lab.ts'
import { usualForwardness } from './white.ts'

/** Lamp spectra that a job may name; CIE 015:2018. */
export const illuminantNames = [
  'D50',
  'D65',
  'A',
  'LED-B1',
  'LED-B2',
  'LED-B3',
  'LED-B4',
  'LED-B5',
  'LED-V1',
  'FL11',
] as const
export type IlluminantName = (typeof illuminantNames)[number]

/** A soft surround: part of the light that does not come from the lamp, so that foil is never a black hole. */
export interface Room {
  /** Luminance of the room's brightest part in units of paper white under the lamp, >= 0. 0 switches it off. */
  readonly level: number
}

/** The board and what is coated on it: what is assumed and may be measured. */
export interface Board {
  /** Slope of the board's waviness, rms, radians. */
  readonly waviness: number
  /** Refractive index of lacquer and coats. */
  readonly lacquerIndex: number
  /** Width of the top gloss, rms slope, radians. */
  readonly glossRoughness: number
  /** Grating cell along and across the grating vector, µm. */
  readonly cell: readonly [number, number]
  /** From which side the relief is looked at: through the film below it, it is its own negative. */
  readonly readFrom: 'lacquer' | 'film'
  /** Rms height of the metal's own fine roughness, nm. */
  readonly microRoughness: number
  /** Rms spread of the light that this roughness takes, in direction cosines. */
  readonly hazeSpread: number
  /** Coloured lacquer over the metal, by the flat mirror's L*a*b* (D50); null = clear. */
  readonly tint: Lab | null
  /** Rms slope of the varnished top surface. */
  readonly varnishRoughness: number
  /** Rms angle by which a matte varnish turns light aside each time it passes, radians. */
  readonly varnishScatter: number
  /** Mean cosine of scattering in the white's pigment, 0..0.95. */
  readonly forwardness: number
}

export const defaultBoard: Board = {
  waviness: 0.003,
  lacquerIndex: 1.5,
  glossRoughness: 0.05,
  cell: [50, 50],
  readFrom: 'lacquer',
  microRoughness: 0,
  hazeSpread: 0.15,
  tint: null,
  varnishRoughness: 0.02,
  varnishScatter: 0,
  forwardness: usualForwardness,
}

/** Aperture that looks: radius of pupil or lens, mm. */
export const pupilRadius = 2

/** Unit vector from the panel's middle to the brightest part of the room, table frame: above and behind the eye. */
export const roomUp: readonly [number, number, number] = [0, 0.8, 0.6]
