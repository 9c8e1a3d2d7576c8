import { Clipper, EndType, FillRule, JoinType } from 'clipper2-ts'

/** Corners in order. */
type Polygon = readonly (readonly [x: number, y: number])[]

/** Grid that the library counts on, per unit; 0.1 µm where the unit is the millimetre. */
const grid = 1e4

/**
 * The polygons as one, grown by `reach` ≥ 0 with rounded outer corners: outlines counter-clockwise, holes clockwise.
 * Places are rounded to 1e-4; arcs keep within `reach` / 500 of the circle.
 */
export function grown(polygons: readonly Polygon[], reach: number): [number, number][][] {
  const paths = onGrid(polygons)
  // Neighbours share an edge but for rounding: closing gaps of the grid keeps them one.
  const joined = Clipper.inflatePaths(
    Clipper.inflatePaths(Clipper.union(paths, FillRule.NonZero), closing, JoinType.Miter, EndType.Polygon),
    -closing,
    JoinType.Miter,
    EndType.Polygon,
  )
  const wide =
    reach === 0
      ? joined
      : Clipper.inflatePaths(joined, reach * grid, JoinType.Round, EndType.Polygon, 2, (reach * grid) / 500)
  return wide.map(path => path.map(({ x, y }): [number, number] => [x / grid, y / grid]))
}

const closing = 2

/** Area of polygons, even-odd: a ring inside another is a hole. */
export function areaOf(polygons: readonly Polygon[]): number {
  return Clipper.areaPaths(Clipper.union(onGrid(polygons), FillRule.EvenOdd)) / grid ** 2
}

/** What of `polygons`, even-odd, lies on any of `others`, which may touch: its area. */
export function areaWithin(polygons: readonly Polygon[], others: readonly Polygon[]): number {
  const one = Clipper.union(onGrid(others), FillRule.NonZero)
  const own = Clipper.union(onGrid(polygons), FillRule.EvenOdd)
  return Clipper.areaPaths(Clipper.intersect(own, one, FillRule.NonZero)) / grid ** 2
}

const onGrid = (polygons: readonly Polygon[]) =>
  polygons.map(polygon => polygon.map(([x, y]) => ({ x: Math.round(x * grid), y: Math.round(y * grid) })))

/** Rings, a ring inside another being a hole (even-odd): what all of these operations give, holes clockwise. */
export type Rings = readonly Polygon[]

/** What of `rings` lies on `others`. */
export const shared = (rings: Rings, others: Rings): Rings =>
  offGrid(Clipper.intersect(onGrid(rings), onGrid(others), FillRule.EvenOdd))

/** What of `rings` does not lie on `others`. */
export const without = (rings: Rings, others: Rings): Rings =>
  offGrid(Clipper.difference(onGrid(rings), onGrid(others), FillRule.EvenOdd))

/** What lies on either. */
export const either = (rings: Rings, others: Rings): Rings =>
  offGrid(Clipper.union(onGrid(rings), onGrid(others), FillRule.EvenOdd))

/** Outlines that are filled by a rule, as rings. */
export const filledBy = (outlines: Rings, rule: 'nonzero' | 'evenodd'): Rings =>
  offGrid(Clipper.union(onGrid(outlines), rule === 'nonzero' ? FillRule.NonZero : FillRule.EvenOdd))

/** What lies on any of many shapes. */
export const united = (shapes: readonly Rings[]): Rings =>
  offGrid(Clipper.union(shapes.flatMap(onGrid), FillRule.NonZero))

/** The rings grown by `reach`, or shrunk where it is below 0; corners are rounded. */
export const offset = (rings: Rings, reach: number): Rings => {
  if (reach === 0 || rings.length === 0) return rings
  const arc = Math.max(1, (Math.abs(reach) * grid) / 100)
  return offGrid(Clipper.inflatePaths(oriented(rings), reach * grid, JoinType.Round, EndType.Polygon, 2, arc))
}

/** All that the rings come over on a straight way of each of their places, from one to another. */
export function swept(
  rings: Rings,
  from: (place: Polygon[number]) => Polygon[number],
  to: (place: Polygon[number]) => Polygon[number],
): Rings {
  const paths = [...oriented(rings.map(ring => ring.map(from))), ...oriented(rings.map(ring => ring.map(to)))]
  const ways = rings.flatMap(ring =>
    ring.flatMap((place, i) => {
      const next = ring[(i + 1) % ring.length]!
      return untwisted([from(place), from(next), to(next), to(place)])
    }),
  )
  const quads = onGrid(ways).map(quad => (Clipper.area(quad) < 0 ? quad.reverse() : quad))
  return offGrid(Clipper.union([...paths, ...quads], FillRule.NonZero))
}

/**
 * A side that turns about a place of its own comes over two triangles, which run round in opposite senses: as one
 * polygon the second would be taken away.
 */
function untwisted(way: readonly [Place, Place, Place, Place]): readonly Polygon[] {
  const [a, b, c, d] = way
  const beside = crossing(a, b, d, c)
  if (beside !== null)
    return [
      [a, beside, d],
      [beside, b, c],
    ]
  const along = crossing(a, d, b, c)
  if (along === null) return [way]
  return [
    [a, b, along],
    [along, c, d],
  ]
}

type Place = Polygon[number]

/** Where two pieces cross; null where they do not, or lie on one line. */
function crossing([ax, ay]: Place, [bx, by]: Place, [cx, cy]: Place, [dx, dy]: Place): Place | null {
  const det = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
  const s = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / det
  const t = ((cx - ax) * (by - ay) - (cy - ay) * (bx - ax)) / det
  return s > 0 && s < 1 && t > 0 && t < 1 ? [ax + s * (bx - ax), ay + s * (by - ay)] : null
}

const oriented = (rings: Rings) => Clipper.union(onGrid(rings), FillRule.EvenOdd)

/** The same rings with fewer corners: none that is nearer than `reach` to the line between its neighbours. */
export const thinned = (rings: Rings, reach: number): Rings =>
  offGrid(Clipper.ramerDouglasPeuckerPaths(onGrid(rings), reach * grid))

const offGrid = (paths: readonly (readonly { readonly x: number; readonly y: number }[])[]): Rings =>
  paths.map(path => path.map(({ x, y }): [number, number] => [x / grid, y / grid]))

/** What a round pen of `width` > 0 covers along lines, which may cross. */
export const stroked = (lines: readonly Polygon[], width: number): Rings =>
  offGrid(
    Clipper.inflatePaths(
      onGrid(lines),
      (width / 2) * grid,
      JoinType.Round,
      EndType.Round,
      2,
      Math.max(1, (width * grid) / 200),
    ),
  )
