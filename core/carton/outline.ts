import type { Outline, Point } from './die.ts'

/** Area of a closed line, mm²: above 0 where it runs counter-clockwise. */
export function signedArea(outline: Outline): number {
  return outline.reduce((sum, [x, y], i) => {
    const [nextX, nextY] = outline[(i + 1) % outline.length]!
    return sum + (x * nextY - nextX * y) / 2
  }, 0)
}

/** Box around places: left, bottom, right, top. */
export function boxOf(points: readonly Point[]): readonly [number, number, number, number] {
  let [left, bottom, right, top] = [Infinity, Infinity, -Infinity, -Infinity]
  for (const [x, y] of points) {
    left = Math.min(left, x)
    bottom = Math.min(bottom, y)
    right = Math.max(right, x)
    top = Math.max(top, y)
  }
  return [left, bottom, right, top]
}

/** The same closed line, counter-clockwise. */
export function counterClockwise(outline: Outline): Outline {
  return signedArea(outline) < 0 ? outline.toReversed() : outline
}

/** A corner, and the radius that rounds it, mm; none leaves it sharp. */
export type Corner = readonly [x: number, y: number, radius?: number]

/**
 * A closed line with its corners rounded by arcs, flattened to within 0.01 mm. A radius that the neighbouring
 * edges have no room for becomes as large as half of the shorter one allows.
 */
export function rounded(corners: readonly Corner[]): Outline {
  return corners.flatMap((corner, i): Outline => {
    const [x, y, radius = 0] = corner
    if (radius <= 0) return [[x, y]]
    const before = corners[(i + corners.length - 1) % corners.length]!
    const after = corners[(i + 1) % corners.length]!
    return arc([x, y], [before[0], before[1]], [after[0], after[1]], radius)
  })
}

/** Distance of a flattened arc from the true one, mm. */
const flatness = 0.01

function arc(corner: Point, before: Point, after: Point, wanted: number): Outline {
  const [inX, inY, inLength] = way(corner, before)
  const [outX, outY, outLength] = way(corner, after)
  const between = Math.acos(Math.min(1, Math.max(-1, inX * outX + inY * outY)))
  const turn = Math.PI - between
  if (turn < 1e-3) return [corner]
  const room = Math.min(inLength, outLength) / 2
  const reach = Math.min(wanted * Math.tan(turn / 2), room)
  const radius = reach / Math.tan(turn / 2)
  const [midX, midY, mid] = way([0, 0], [inX + outX, inY + outY])
  if (mid === 0 || radius <= flatness) return [corner]
  const toCenter = radius / Math.sin(between / 2)
  const center: Point = [corner[0] + midX * toCenter, corner[1] + midY * toCenter]
  const steps = Math.max(2, Math.ceil(turn / (2 * Math.acos(1 - flatness / radius))))
  const first = Math.atan2(corner[1] + inY * reach - center[1], corner[0] + inX * reach - center[0])
  const sense = inX * outY - inY * outX > 0 ? -1 : 1
  return Array.from({ length: steps + 1 }, (_, k): Point => {
    const angle = first + (sense * turn * k) / steps
    return [center[0] + radius * Math.cos(angle), center[1] + radius * Math.sin(angle)]
  })
}

/** Unit vector from one place to another, and how far that is. */
function way(from: Point, to: Point): readonly [x: number, y: number, length: number] {
  const [x, y] = [to[0] - from[0], to[1] - from[1]]
  const length = Math.hypot(x, y)
  return length === 0 ? [0, 0, 0] : [x / length, y / length, length]
}
