import { offset, type Rings, thinned, without } from '../../base/polygons.ts'
import { signedArea } from '../../carton/outline.ts'
import { inside } from '../../reference/solid.ts'
import type { BoxMm } from '../finding.ts'
import type { AppliedLimit } from '../limits.ts'

/** A stretch of a shape, or of a gap in it, that is too thin. */
export interface ThinStretch {
  readonly widthMm: number
  readonly limit: AppliedLimit
  readonly box: BoxMm
}

/** Outlines differ from what they were drawn as by no more, mm. */
const slack = 0.003

/**
 * The thinnest stretch of a shape that is under its limit and long enough; null where there is none. It is what a disc as
 * wide as the limit does not come into: of the shape itself, or of what lies between its edges.
 * @param limits   by number of what lies under it
 * @param groundAt that number, at a place in mm
 */
export function thinOutline(
  outline: Rings,
  reversed: boolean,
  shortestMm: number,
  limits: readonly AppliedLimit[],
  groundAt: (xMm: number, yMm: number) => number,
): ThinStretch | null {
  const rings = thinned(outline, slack / 2)
  let worst: ThinStretch | null = null
  const widestFirst = [...limits.entries()].toSorted(([, a], [, b]) => b.value - a.value)
  for (const [ground, limit] of widestFirst) {
    const reach = limit.value / 2 - slack
    if (reach <= 0) break
    const pieces = piecesOf(reversed ? closed(rings, reach) : opened(rings, reach)).flatMap(piece => {
      const box = around(piece[0]!)
      return Math.hypot(box.rightMm - box.leftMm, box.topMm - box.bottomMm) < shortestMm
        ? []
        : [{ piece, box }]
    })
    // A smaller disc comes into all that a larger one does.
    if (pieces.length === 0) break
    for (const { piece, box } of pieces) {
      const [ring] = piece
      const widthMm = widthOf(piece)
      if (widthMm >= limit.value - 2 * slack) continue
      if (widthMm >= (worst?.widthMm ?? Number.POSITIVE_INFINITY)) continue
      const under = ring!.filter(([x, y]) => groundAt(x, y) === ground).length
      if (2 * under > ring!.length) worst = { widthMm, limit, box }
    }
  }
  return worst
}

/** What of the rings a disc inside them does not come to. */
const opened = (rings: Rings, reach: number): Rings =>
  without(rings, offset(offset(rings, -reach), reach + slack))

/** What beside the rings a disc outside of them does not come to. */
const closed = (rings: Rings, reach: number): Rings =>
  without(offset(offset(rings, reach), -reach - slack), rings)

/** Rings sorted into pieces: what runs round each first, then its holes. */
function piecesOf(rings: Rings): readonly Rings[] {
  const outer = rings
    .filter(ring => signedArea(ring) > 0)
    .map(ring => [ring])
    .toSorted(([a], [b]) => signedArea(a!) - signedArea(b!))
  for (const ring of rings) {
    if (signedArea(ring) > 0) continue
    // The smallest that it lies in.
    outer.find(([around]) => inside(around!, ...ring[0]!))?.push(ring)
  }
  return outer
}

/** Of a strip by its area and its way round: of length l and width w it has the area l w and the way round 2 (l + w). */
function widthOf(piece: Rings): number {
  const area = piece.reduce((sum, ring) => sum + signedArea(ring), 0)
  const sum = piece.reduce((way, ring) => way + lengthOf(ring), 0) / 2
  return (sum - Math.sqrt(Math.max(0, sum * sum - 4 * area))) / 2
}

const lengthOf = (ring: Rings[number]): number =>
  ring.reduce((way, [x, y], i) => {
    const [u, v] = ring[(i + 1) % ring.length]!
    return way + Math.hypot(u - x, v - y)
  }, 0)

function around(ring: Rings[number]): BoxMm {
  const box = { leftMm: Infinity, bottomMm: Infinity, rightMm: -Infinity, topMm: -Infinity }
  for (const [x, y] of ring) {
    box.leftMm = Math.min(box.leftMm, x)
    box.rightMm = Math.max(box.rightMm, x)
    box.bottomMm = Math.min(box.bottomMm, y)
    box.topMm = Math.max(box.topMm, y)
  }
  return box
}
