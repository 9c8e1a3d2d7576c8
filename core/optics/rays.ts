import type { Area } from './area.ts'
import { pupilRadius } from './scene.ts'

/** x right, y up, z out of the print side. */
export type Direction = readonly [number, number, number]

/** Lamp and eye seen from one point of the panel, panel frame. */
export interface Rays {
  /** Unit vectors to the two. */
  readonly lamp: Direction
  readonly eye: Direction
  /** Standard deviations of the two as blurred points, radians. */
  readonly lampSpread: number
  readonly eyeSpread: number
  /** Of a lamp whose outline counts: `lamp` and `lampSpread` are then those of its middle. */
  readonly area?: Area
}

/** Unit vector of an azimuth and elevation, radians. */
export function direction(azimuth: number, elevation: number): Direction {
  const flat = Math.cos(elevation)
  return [flat * Math.cos(azimuth), flat * Math.sin(azimuth), Math.sin(elevation)]
}

/** Standard deviation of a disc along one axis, radians: half its angular radius. Lengths in the same unit. */
export function discSpread(radius: number, distance: number): number {
  return radius / (2 * distance)
}

/** Standard deviation of the pupil or lens that looks from `distance` mm, radians. */
export function eyeSpread(distance: number): number {
  return discSpread(pupilRadius, distance)
}

/** 1/cos of both rays inside a coat, summed: how much longer than its thickness the coat is crossed. */
export function slantOf(cosLamp: number, cosEye: number): number {
  return 1 / cosLamp + 1 / cosEye
}
