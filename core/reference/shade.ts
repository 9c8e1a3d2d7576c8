import type { Surround } from '../optics/room.ts'
import type { Tables } from '../optics/tables.ts'

/** One place on the panel under lamp and eye, panel frame. Filled by the caller and used again for the next place. */
export interface Site {
  /** Unit vector to the lamp. */
  lampX: number
  lampY: number
  lampZ: number
  /** Unit vector to the eye. */
  eyeX: number
  eyeY: number
  eyeZ: number
  /** Half the angular radius of the lamp, and of the pupil, radians: their standard deviations. */
  lampSpread: number
  eyeSpread: number
  /** Light of the lamp here over that in the middle of the untilted panel. */
  irradiance: number
  /** 1 = metal, 0 = bare board. */
  metal: number
  /** Gratings in use; the arrays hold `gratingLimit`. */
  gratings: number
  /** Unit grating vector (across the grooves), spacing nm. */
  readonly directionX: Float64Array
  readonly directionY: Float64Array
  readonly pitch: Float64Array
  /** Peak to valley, nm. */
  readonly grooveDepth: Float64Array
  /** Index into grooveShapes. */
  readonly shape: Uint8Array
  /** Area share, 0..1; what the gratings leave is mirror. */
  readonly share: Float64Array
  /** Standard deviation of the grating vector along and across itself, cycles/nm. */
  readonly spreadAlong: Float64Array
  readonly spreadAcross: Float64Array
  /** Coverage of each white plate, as many as `tables.whiteScatter`, the one next to the foil first. */
  readonly whites: Float64Array
  /** Coverage of cyan, magenta, yellow, black. */
  readonly inks: Float64Array
  /** Coverage of each spot ink of the tables. */
  readonly spots: Float64Array
  varnish: number
}

export const gratingLimit = 4

/**
 * Light towards the eye: X, Y, Z in units of perfect white under the lamp in the middle of the untilted panel
 * (lamp part × `irradiance`, plus the room). Fast: tables, 12 samples a band. Allocates nothing.
 * @param out gets X, Y, Z at 0, 1, 2
 */
export declare function shade(site: Site, tables: Tables, surround: Surround, out: Float64Array): Float64Array
