import { boundsOf, type Outline, type PointMm } from './outline.ts'

/** Sides of a drawn ellipse: at 100 mm across it strays 0.03 mm from round. */
const ellipseSides = 96

/** A rectangle between two corners. */
export function rectangle([ax, ay]: PointMm, [bx, by]: PointMm): readonly PointMm[] {
  return [
    [ax, ay],
    [bx, ay],
    [bx, by],
    [ax, by],
  ]
}

/** The ellipse inside a rectangle between two corners. */
export function ellipse([ax, ay]: PointMm, [bx, by]: PointMm): readonly PointMm[] {
  return Array.from({ length: ellipseSides }, (_, i): PointMm => {
    const angle = (2 * Math.PI * i) / ellipseSides
    return [
      (ax + bx) / 2 + (Math.abs(bx - ax) / 2) * Math.cos(angle),
      (ay + by) / 2 + (Math.abs(by - ay) / 2) * Math.sin(angle),
    ]
  })
}

/** The outline with a point somewhere else. */
export function withPoint(outline: Outline, ring: number, index: number, to: PointMm): Outline {
  return mapRing(outline, ring, points => points.map((point, i) => (i === index ? to : point)))
}

/** The outline with a new point in the middle of the side that begins at `index`. */
export function splitSide(outline: Outline, ring: number, index: number): Outline {
  return mapRing(outline, ring, points => {
    const [from, to] = [points[index]!, points[(index + 1) % points.length]!]
    const middle: PointMm = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]
    return [...points.slice(0, index + 1), middle, ...points.slice(index + 1)]
  })
}

/** The outline without a point; a ring of three points keeps them. */
export function withoutPoint(outline: Outline, ring: number, index: number): Outline {
  return mapRing(outline, ring, points => (points.length > 3 ? points.filter((_, i) => i !== index) : points))
}

/** The outline moved and stretched into other bounds; a side of no length is only moved. */
export function fitted(
  outline: Outline,
  to: {
    readonly leftMm: number
    readonly bottomMm: number
    readonly widthMm: number
    readonly heightMm: number
  },
): Outline {
  const bounds = boundsOf(outline)
  if (bounds === null) return outline
  const stretch = (now: number, wanted: number) => (now > 0 ? wanted / now : 1)
  const sx = stretch(bounds.rightMm - bounds.leftMm, to.widthMm)
  const sy = stretch(bounds.topMm - bounds.bottomMm, to.heightMm)
  const move = ([x, y]: PointMm): PointMm => [
    to.leftMm + (x - bounds.leftMm) * sx,
    to.bottomMm + (y - bounds.bottomMm) * sy,
  ]
  return { ...outline, rings: outline.rings.map(ring => ring.map(move)) }
}

function mapRing(
  outline: Outline,
  ring: number,
  change: (points: readonly PointMm[]) => readonly PointMm[],
): Outline {
  return { ...outline, rings: outline.rings.map((points, i) => (i === ring ? change(points) : points)) }
}
