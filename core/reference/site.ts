import { mostViews } from '../effects/view-image.ts'
import { type Area, emptyArea } from '../optics/area.ts'
import { primaryCount, roomStrata, type Tables } from '../optics/tables.ts'

/** One place on the panel under lamp and eye, panel frame. Filled by the caller and used again for the next place. */
export interface Site {
  /** Where it lies, mm from the panel's middle. */
  placeX: number
  placeY: number
  /** Unit vector to the lamp. */
  lampX: number
  lampY: number
  lampZ: number
  /** Unit vector to the eye. */
  eyeX: number
  eyeY: number
  eyeZ: number
  /** Of that ray, set by `prepareEye`: its cosine in the coat, what the surface lets out, root of the metal's `metalAngle`. */
  eyeCos: number
  eyeLeaving: number
  eyeMetal: number
  /** Covariance of the tangential direction to the lamp's points. */
  lampXX: number
  lampXY: number
  lampYY: number
  /** Standard deviation of the lamp's points about its middle, on the mean of two axes, and of the pupil's, radians. */
  lampSpread: number
  eyeSpread: number
  /** Light of the lamp here over that of all lamps in the middle of the untilted panel. */
  irradiance: number
  /** A wide lamp as it is seen from here. */
  readonly area: Area
  /** 1 = metal, 0 = bare board. */
  metal: number
  /** Gratings in use, views after the others; the arrays hold `gratingLimit` and the views of one set. */
  gratings: number
  /** Unit grating vector (across the grooves), spacing nm. */
  readonly directionX: Float64Array
  readonly directionY: Float64Array
  readonly pitch: Float64Array
  /** Peak to valley, nm. */
  readonly grooveDepth: Float64Array
  /** Index of its groove in the tables. */
  readonly groove: Uint8Array
  /** Area share, 0..1; what the gratings leave is mirror. */
  readonly share: Float64Array
  /** Standard deviation of the grating vector along and across itself, cycles/nm. */
  readonly spreadAlong: Float64Array
  readonly spreadAcross: Float64Array
  /** Covariance of the two, cycles²/nm². */
  readonly spreadCovariance: Float64Array
  /** Coverage of each white plate, as many as `tables.whiteScatter`, the one next to the foil first. */
  readonly whites: Float64Array
  /** Coverage of cyan, magenta, yellow, black. */
  readonly inks: Float64Array
  /** Coverage of each spot ink of the tables. */
  readonly spots: Float64Array
  varnish: number
  /** Unevenness of the white coats here, rms 1 over the carton. */
  unevenness: number
  /** Of each white plate: area that it covers, scattering strength and straight thickness there; see `prepareWhites`. */
  readonly whiteCover: Float64Array
  readonly whiteScatter: Float64Array
  readonly whiteStraight: Float64Array
  /** Part of the spot whose straight light is being added: the metal, or what of it lies bare or under varnish. */
  foil: number
  /** Variance of the waviness that this light meets. */
  waviness: number
  /** Where leaves lie apart: what the lamp that the site is set for meets elsewhere than the eye; null where all lies on the board. */
  apart: Apart | null
  /** What `shade` keeps from one place to the next, for the tables in use; one for each set of tables. */
  print: Print
  readonly prints: readonly Print[]
}

export const gratingLimit = 4

/** Leaves between lamp, board and eye that do not lie on the board, for one lamp. */
export interface Apart {
  /** 1/cosθ of the ray to the eye in the coat. */
  eyeSlant: number
  /** The whites where the lamp's ray crosses their leaf, as `whiteCover` and `whiteStraight` are where the eye's does. */
  readonly cover: Float64Array
  readonly straight: Float64Array
  /** How far both crossings lie in the same dots of a screen, 0..1. */
  together: number
  /** What the surfaces of the films let through, there and back. */
  film: number
  /** 1 = the board lies under the spot, 0 = nothing does. */
  backing: number
}

/** The inks of a place as the tables see them; kept while neighbours carry the same inks. */
export interface Print {
  /** Inks and spots it was made for. */
  readonly key: Float64Array
  /** Grows whenever it is made for others. */
  version: number
  /** The inks of two crossings: every factor is then the root of the product of theirs. Null for one place. */
  readonly parts: readonly [Print, Print] | null
  /** No ink at all. */
  blank: boolean
  /** Nothing that changes straight light: no ink over clear metal. */
  clear: boolean
  /** Primaries with any area, and those areas. */
  count: number
  readonly primary: Uint8Array
  readonly area: Float64Array
  readonly areas: Float64Array
  /** Tones of the process inks as they print on foil. */
  readonly tones: Float64Array
  /** Straight path over λ at both slants, one after the other, and which of its columns are made. */
  readonly path: Float64Array
  readonly pathKnown: Uint8Array
  /** Light of the room's strata through the inks: see `inkedStrata`; and whether it is made. */
  readonly strata: Float64Array
  strataKnown: boolean
  /** Factor of the spot inks on order 0, X, Y, Z. */
  readonly spots: Float64Array
  /** Factor on scattered light, X, Y, Z, and whether it is made. */
  readonly scattered: Float64Array
  scatteredKnown: boolean
  /** Order 0 of a plain mirror at both slants: X, Y, Z, X, Y, Z. */
  readonly plain: Float64Array
  /** Columns of the order-0 table through the inks, X, Y, Z of two neighbours at both slants; of which groove and from where. */
  readonly zero: Float64Array
  zeroGroove: number
  zeroColumn: number
  /** Room for the X, Y, Z of a mirror and of a grating's order 0. */
  readonly mirror: Float64Array
  readonly groove: Float64Array
}

/** A site with nothing on it, for the plates of these tables; a set for each spectrum. */
export function emptySite(tables: Tables, ...more: readonly Tables[]): Site {
  const perGrating = () => new Float64Array(gratingLimit + mostViews)
  const spots = tables.spotColor?.width ?? 0
  const prints = [tables, ...more].map(one => emptyPrint(one))
  return {
    placeX: 0,
    placeY: 0,
    lampX: 0,
    lampY: 0,
    lampZ: 1,
    eyeX: 0,
    eyeY: 0,
    eyeZ: 1,
    eyeCos: 1,
    eyeLeaving: 1,
    eyeMetal: 1,
    lampXX: 0,
    lampXY: 0,
    lampYY: 0,
    lampSpread: 0,
    eyeSpread: 0,
    irradiance: 1,
    area: emptyArea(),
    metal: 0,
    gratings: 0,
    directionX: perGrating(),
    directionY: perGrating(),
    pitch: perGrating(),
    grooveDepth: perGrating(),
    groove: new Uint8Array(gratingLimit + mostViews),
    share: perGrating(),
    spreadAlong: perGrating(),
    spreadAcross: perGrating(),
    spreadCovariance: perGrating(),
    whites: new Float64Array(tables.whiteScatter.length),
    inks: new Float64Array(4),
    spots: new Float64Array(spots),
    varnish: 0,
    unevenness: 0,
    whiteCover: new Float64Array(tables.whiteScatter.length),
    whiteScatter: new Float64Array(tables.whiteScatter.length),
    whiteStraight: new Float64Array(tables.whiteScatter.length),
    foil: 0,
    waviness: tables.wavinessVariances[0],
    apart: null,
    print: prints[0]!,
    prints,
  }
}

/** @param parts the prints of both crossings, for one that stands for two places */
export function emptyPrint(tables: Tables, parts: readonly [Print, Print] | null = null): Print {
  const spots = tables.spotColor?.width ?? 0
  return {
    parts,
    key: new Float64Array(4 + spots).fill(-1),
    version: 0,
    blank: true,
    clear: true,
    count: 0,
    primary: new Uint8Array(primaryCount),
    area: new Float64Array(primaryCount),
    areas: new Float64Array(primaryCount),
    tones: new Float64Array(4),
    path: new Float64Array(2 * tables.inkPath.width),
    spots: new Float64Array(3),
    pathKnown: new Uint8Array(tables.inkPath.width),
    strata: new Float64Array(6 * roomStrata),
    strataKnown: false,
    scattered: new Float64Array(3),
    scatteredKnown: false,
    plain: new Float64Array(6),
    zero: new Float64Array(12),
    zeroGroove: -1,
    zeroColumn: -1,
    mirror: new Float64Array(3),
    groove: new Float64Array(3),
  }
}
