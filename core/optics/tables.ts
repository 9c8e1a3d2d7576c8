import { capRows } from './cap.ts'
import type { Table } from './coordinate.ts'

export { capRows, capStep, maxPhase, phaseColumns } from './cap.ts'

/** Sizes and ranges of the baked tables. The shader gets them as defines; nothing repeats them. */

/** Orders −maxOrder…maxOrder are in the table; beyond it the fast picture has none. */
export const maxOrder = 7
export const orderRows = 2 * maxOrder + 1
/** Rows of one groove in the efficiency table: its orders from −maxOrder on, then its cap. */
export const grooveRows = orderRows + capRows
/** Row of an order of a groove in the efficiency table. */
export const efficiencyRow = (groove: number, m: number): number => groove * grooveRows + maxOrder + m
/** First row of a groove's cap there. */
export const capRow = (groove: number): number => groove * grooveRows + orderRows
/** Wavelengths that stand for X, Y, Z in the cap of order 0, nm. */
export const capWavelengths: readonly [number, number, number] = [597, 560, 452]
/** Wavelength that stands for all in the haze, nm. */
export const hazeWavelength = 550
/** Grooves that a map can have. */
export const mostGrooves = 64

/** Optical depth H (q_l + q_v), nm, of the last column of the order-0 table. */
export const maxOpticalDepth = 768
export const depthColumns = 129

/**
 * Ink is crossed twice on a slant: t^s with s = 1/cosθ_l + 1/cosθ_v inside the coat, 2…2.7. Tables hold the first and
 * the second of these s, f0 and f1; {@link betweenSlants} goes between and on.
 */
export const slants: readonly [number, number] = [2, 2.3]

/**
 * Between two powers of a transmittance, and on: f0 r^x with r = f1/f0 and r^x ≈ (1 − x + (1 + x) r) / (1 + x + (1 − x) r).
 * Exact at x = 0 and 1; for a black of t = 0.15 within 2 % up to s = 2.4, 10 % at 2.6 (70° both ways in air).
 */
export function betweenSlants(f0: number, f1: number, x: number): number {
  return (f0 * ((1 - x) * f0 + (1 + x) * f1)) / ((1 + x) * f0 + (1 - x) * f1)
}

/** Ink spectra: 10 nm steps from 380 to 780. */
export const inkColumns = 41
/** Tones of one ink in the print table, evenly from none to solid. */
export const printNodes = 17
/** Primaries of the halftone; bit 0 cyan, 1 magenta, 2 yellow, 3 black. */
export const primaryCount = 16

/** Row of the order-0 table. */
export const orderZeroRow = (groove: number, slantIndex: number, primary: number): number =>
  (groove * slants.length + slantIndex) * primaryCount + primary

/** Cosine inside the coat: columns of the metal table run from the grazing ray in air to straight on. */
export const angleColumns = 32

/** Fewest samples in the visible part of an order's band, and the widest stratum, nm. */
export const bandSamples = 12
export const bandStep = 12
/**
 * Strata that share one parabola for the efficiency along them; the samples of a band are a multiple of it. Over the 72
 * nm of the widest stretch the parabola is within 0.002 of a groove 150 nm deep, within 1e-4 of a usual one.
 */
export const bandStretch = 6
/** The band is cut this many standard deviations from its middle: one of few samples, and one of many. */
export const bandReach = 3.4
export const bandReachWide = 4
/** Deviations, nm, between which the reach grows: from there on strata have their full width however far they go. */
export const bandWidens: readonly [number, number] = [16, 20]
/** Where a band of that deviation, nm, is cut: a line of a lamp may be seen in the tail of a wide one. */
export function bandHalf(deviation: number): number {
  const [from, to] = bandWidens
  const part = Math.min(1, Math.max(0, (deviation - from) / (to - from)))
  return deviation * (bandReach + part * (bandReachWide - bandReach))
}
/**
 * An order is dark where its kernel lies more than this many standard deviations off. Orders are up to 400 times as
 * bright as paper: cut at 4, they would end in an edge of a tenth of paper white; at 5.5 in one of 0.0001.
 */
export const kernelReach = 5.5
/** Strata of the spectrum in which the orders show the room; their middles lie on ink columns. */
export const roomStrata = 20

/**
 * Everything that the fast reference and the shader know about spectra, for one illuminant, board and set of plates.
 * All are read straight between texels along the row; rows are never mixed.
 */
export interface Tables {
  /** C(λ) = ∫ S·cmf·R dλ from 380 nm, R aluminium under the coat, straight on; 401 texels X, Y, Z, 0. */
  readonly cumulative: Table
  /** P_m(φ) of every groove, and its cap by φ straight on: {@link efficiencyRow}, {@link capRow}. */
  readonly efficiency: Table
  /** Of every groove: what (mλ / n d)² counts, and the pitch from which it needs no cap, nm. */
  readonly grooves: readonly { readonly vector: number; readonly freeFrom: number }[]
  /** ∫ S·cmf·R·P_0·t^s dλ by optical depth: X, Y, Z, 0; see {@link orderZeroRow}. */
  readonly orderZero: Table
  /** R(cosθ') / R(1) of aluminium at 555 nm from the grazing ray's cosine {@link cosGrazing} to 1; below it the haze's level. */
  readonly metalAngle: Table
  /**
   * t^s of the 16 primaries over λ: row = slant · 4 + texel, channel c of texel k is primary 4k + c. The metal's own
   * colour is in it, as in the order-0 table.
   */
  readonly inkPath: Table
  /** Whether the metal has a colour of its own, so that not even a clear spot is without a filter. */
  readonly tinted: boolean
  /** Factor of the process inks on scattered light, X, Y, Z: see `printTable`. */
  readonly printTable: Table
  /** Of the paper between the dots of each ink, 1 − a, a part (1 − a)^q is left on foil: q. */
  readonly toneExponents: readonly number[]
  /** X, Y, Z that fully opaque white is multiplied by, to look as the profile's paper; else 1. */
  readonly paperTint: readonly [number, number, number]
  /** t^s of the spot inks over λ: row = slant · ⌈spots/4⌉ + texel; null without spots. */
  readonly spotPath: Table | null
  /** A texel a spot ink: X, Y, Z after t² over X, Y, Z before, for order 0. Null without spots. */
  readonly spotColor: Table | null
  /** What spot inks change on scattered light: see `spotNodes`. Null without spots. */
  readonly spotNodes: Table | null
  /** The haze of the metal's own roughness; null without. What it takes straight on is out of the tables of the metal. */
  readonly haze: {
    /** X, Y, Z of what is taken straight on. */
    readonly color: readonly [number, number, number]
    /** Variance of the lobe in direction cosines. */
    readonly variance: number
    /** (2πσ/λ)² at `wavelength`, nm. */
    readonly steepness: number
    readonly wavelength: number
  } | null
  /** X, Y, Z of perfect white under the lamp; Y = 1. */
  readonly white: readonly [number, number, number]
  /** Share of scattered light that the foil throws back, by X, Y, Z. */
  readonly foilAlbedo: readonly [number, number, number]
  /** The same for the bare board. */
  readonly boardAlbedo: readonly [number, number, number]
  /** Scattering strength S·d of the solid of each white plate, hits included, ≥ 0; large for a perfect one. */
  readonly whiteScatter: readonly number[]
  /** Optical thickness τ of each for light that goes straight on: exp(−τ s) is left. */
  readonly whiteStraight: readonly number[]
  /** Unevenness of each white's coat, rms part of its scattering strength. */
  readonly whiteMottle: readonly number[]
  /** Whether a coverage below 1 is a thinner film throughout, instead of dots. */
  readonly whiteEven: readonly boolean[]
  /** Share of light from all over that enters the top surface. */
  readonly evenlyEntering: number
  /** Refractive index of the coat. */
  readonly coat: number
  /** √(1 − 1/coat²) */
  readonly cosGrazing: number
  /** Variance of the tangential direction from waviness, for (l_z + v_z) = 1; a matte varnish adds its own. */
  readonly wavinessVariances: readonly [bare: number, varnished: number]
  /** Variance of the tangential direction from the grating's cells, along and across the grating vector. */
  readonly cellVariance: readonly [number, number]
  /** Mean square slope of the top surface, bare and under varnish. */
  readonly glossVariance: readonly [bare: number, varnished: number]
}
