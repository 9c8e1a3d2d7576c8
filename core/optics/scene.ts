/** A direction and distance from a point: azimuth from the panel's right, counter-clockwise; elevation from its plane. Radians, mm. */
export interface Place {
  readonly azimuth: number
  readonly elevation: number
  readonly distance: number
}

export interface Lamp {
  readonly place: Place
  /** Diameter of the disc, mm; it always faces the panel's middle. */
  readonly diameter: number
  readonly illuminant: IlluminantName
}

export type IlluminantName = 'A' | 'D50' | 'D65'

/** A soft surround: part of the light that does not come from the lamp, so that foil is never a black hole. */
export interface Room {
  /** Luminance of the room's brightest part in units of paper white under the lamp, >= 0. 0 switches it off. */
  readonly level: number
}

/** The board below everything: what is assumed and may be measured. */
export interface Board {
  /** Slope of the board's waviness, rms, radians. */
  readonly waviness: number
  /** Refractive index of lacquer and coats. */
  readonly lacquerIndex: number
  /** Width of the top gloss, rms slope, radians. */
  readonly glossRoughness: number
  /** Grating cell along and across the grating vector, µm. */
  readonly cell: readonly [number, number]
}

export const defaultBoard: Board = {
  waviness: 0.003,
  lacquerIndex: 1.5,
  glossRoughness: 0.05,
  cell: [50, 50],
}

/** Aperture that looks: radius of pupil or lens, mm. */
export const pupilRadius = 2

/** Unit vector from the panel's middle to the brightest part of the room, table frame: above and behind the eye. */
export const roomUp: readonly [number, number, number] = [0, 0.8, 0.6]
