import { BadInput } from '../../base/finding.ts'
import { fewestViews, mostViews } from '../view-image.ts'

/** How an object is looked at, view by view. */
export interface Turning {
  /** Views, evenly over the fan; the first is seen from the left. */
  readonly views: number
  /** From the first eye to the last, about the object's vertical axis, degrees. */
  readonly fanDeg: number
  /** How far above the object's equator the eyes stand, degrees. */
  readonly elevationDeg: number
  /** How far the object itself is turned counter-clockwise, seen from above, degrees. */
  readonly turnDeg: number
  /** From the eye to the object's middle, in lengths of its box's longest side; null when the eye is so far away that its rays are parallel. */
  readonly eyeLengths: number | null
}

export const usualTurning: Turning = {
  views: 9,
  fanDeg: 40,
  elevationDeg: 15,
  turnDeg: 0,
  eyeLengths: 8,
}

/** Least and most of each number. */
export const turningRanges = {
  views: [fewestViews, mostViews],
  fanDeg: [1, 180],
  elevationDeg: [-89, 89],
  turnDeg: [-360, 360],
  // Half a box's diagonal is less than 0.87 of its longest side; an eye nearer than that is inside.
  eyeLengths: [1.2, 1000],
} as const satisfies Readonly<Record<keyof Turning, readonly [number, number]>>

/** Throws BadInput naming the first number that is out of its range, or an eye inside the object. */
export function checkTurning(turning: Turning, name: string): void {
  for (const [key, [least, most]] of Object.entries(turningRanges) as [
    keyof Turning,
    readonly [number, number],
  ][]) {
    const value = turning[key]
    if (value === null) continue
    if (!(value >= least && value <= most) || (key === 'views' && !Number.isInteger(value)))
      throw new BadInput(
        'turning-out-of-range',
        name,
        key,
        `expected ${key === 'views' ? 'a whole number' : 'a number'} ${least}..${most}, got ${value}`,
        'Change the number',
      )
  }
}

/** The angle of each view's eye from straight in front, radians, rising from left to right. */
export function eyeAngles({ views, fanDeg }: Pick<Turning, 'views' | 'fanDeg'>): readonly number[] {
  const fan = (fanDeg * Math.PI) / 180
  return Array.from({ length: views }, (_, i) => fan * (i / (views - 1) - 0.5))
}
