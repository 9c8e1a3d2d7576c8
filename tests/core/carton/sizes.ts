import fc from 'fast-check'
import { type Measure, measures } from '../../../core/carton/spec.ts'
import type { StyleName } from '../../../core/carton/style.ts'

export interface Size {
  readonly lengthMm: number
  readonly widthMm: number
  readonly heightMm: number
  readonly caliperMm: number
}

/** A size from a lip balm's to a cereal box's, spread evenly over its orders of magnitude; board as cartons have it. */
export function anySize(style: StyleName): fc.Arbitrary<Size> {
  const part = fc.double({ min: 0, max: 1, noNaN: true })
  // A crash-lock bottom has no room for its pads where the carton is nearly square, a snap-lock none where it is low.
  const [least, more] = style === 'crash-lock' ? [1.2, 14] : [1, 0]
  return fc.tuple(part, part, part, part).map(([w, l, h, s]) => {
    const widthMm = 20 * 7.5 ** w
    return {
      widthMm,
      lengthMm: widthMm * (least + 2 * l) + more,
      heightMm: Math.max(40, 0.7 * widthMm) * 6 ** h,
      caliperMm: 0.3 + 0.5 * s,
    }
  })
}

export const eachMeasure: readonly Measure[] = measures
