import type { Clip, Mark } from '../ink/mark.ts'
import { type Bounds, join, meet, noBounds } from '../ink/outline.ts'
import { moved } from '../ink/path.ts'
import type { Matrix, Path } from '../path.ts'

export const isNowhere = ([left, bottom, right, top]: Bounds): boolean => !(left <= right && bottom <= top)

export const contains = (outer: Bounds, inner: Bounds): boolean =>
  outer[0] <= inner[0] && outer[1] <= inner[1] && outer[2] >= inner[2] && outer[3] >= inner[3]

export const meets = (a: Bounds, b: Bounds): boolean =>
  a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3]

/** Around all points of a path and what pulls at its curves: never too small, and too large by little. */
export function pathBounds({ points }: Path): Bounds {
  let [left, bottom, right, top] = noBounds as [number, number, number, number]
  for (let i = 0; i + 1 < points.length; i += 2) {
    const x = points[i]!
    const y = points[i + 1]!
    if (x < left) left = x
    if (x > right) right = x
    if (y < bottom) bottom = y
    if (y > top) top = y
  }
  return [left, bottom, right, top]
}

/** Where a clip lets anything through; null: everywhere. */
export function clipBounds(clip: Clip | null): Bounds | null {
  let box: Bounds | null = null
  for (let at = clip; at !== null; at = at.within) {
    const own = pathBounds(at.path)
    box = box === null ? own : meet(box, own)
  }
  return box
}

/** Where a mark can have painted, page mm. */
export function markBounds(mark: Mark): Bounds {
  const limit = clipBounds(mark.clip)
  const own = ownBounds(mark)
  return limit === null ? own : meet(own, limit)
}

function ownBounds(mark: Mark): Bounds {
  switch (mark.kind) {
    case 'fill':
      return pathBounds(mark.path)
    case 'stroke': {
      const box = pathBounds(moved(mark.path, mark.matrix))
      if (isNowhere(box)) return noBounds
      const { width, join: corner, cap, miterLimit } = mark.style
      const spike = corner === 'miter' ? Math.max(1, miterLimit) : 1
      const reach = (penMm(width, mark.matrix) / 2) * Math.max(spike, cap === 'square' ? Math.SQRT2 : 1)
      return [box[0] - reach, box[1] - reach, box[2] + reach, box[3] + reach]
    }
    case 'group':
      return mark.marks.reduce<Bounds>((box, one) => {
        const own = markBounds(one)
        return isNowhere(own) ? box : join(box, own)
      }, noBounds)
  }
}

/** How wide a pen draws, page mm: along the direction in which it is widest. */
export function penMm(width: number, [a, b, c, d]: Matrix): number {
  const half = (a * a + b * b + c * c + d * d) / 2
  const off = Math.hypot((a * a + b * b - c * c - d * d) / 2, a * c + b * d)
  return width * Math.sqrt(half + off)
}
