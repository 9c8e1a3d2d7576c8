import type { PointMm } from './outline.ts'

/** A line through points, mm; closed ones go on from the last to the first. */
export interface Curve {
  readonly points: readonly PointMm[]
  readonly closed: boolean
}

/** Where on its curve a place lies. */
export interface OnCurve {
  /** Which curve. */
  curve: number
  /** Along it, from its first point, mm. */
  along: number
  /** From it, mm. */
  distance: number
}

/** Length of a curve, mm. */
export function lengthOf({ points, closed }: Curve): number {
  let sum = 0
  for (let i = closed ? 0 : 1; i < points.length; i++) sum += apart(points.at(i - 1)!, points[i]!)
  return sum
}

/** Cells of the index along each side. */
const cells = 48
/** Pieces of all curves together; finer ones are thinned out, which a highlight does not show. */
const mostPieces = 4000

/**
 * Finds the nearest place of several curves. A grid over a rectangle keeps for each cell the pieces that can be
 * nearest to a place in it; outside the rectangle all are looked at. The answer is written over by the next call.
 */
export function nearestOn(
  curves: readonly Curve[],
  place: {
    readonly leftMm: number
    readonly bottomMm: number
    readonly widthMm: number
    readonly heightMm: number
  },
): (xMm: number, yMm: number) => OnCurve {
  const pieces = piecesOf(curves)
  const all = pieces.map((_, i) => i)
  const stepX = place.widthMm / cells
  const stepY = place.heightMm / cells
  const kept = new Map<number, readonly number[]>()
  const found: OnCurve = { curve: 0, along: 0, distance: Number.POSITIVE_INFINITY }

  const inCell = (column: number, row: number): readonly number[] => {
    const known = kept.get(row * cells + column)
    if (known) return known
    const x = place.leftMm + (column + 0.5) * stepX
    const y = place.bottomMm + (row + 0.5) * stepY
    const distances = pieces.map(piece => Math.hypot(...toPiece(piece, x, y).off))
    // A place in the cell is at most half its diagonal from the middle, and so is each distance.
    const reach = Math.min(...distances) + Math.hypot(stepX, stepY)
    const near = all.filter(i => distances[i]! <= reach)
    kept.set(row * cells + column, near)
    return near
  }

  return (x, y) => {
    const column = Math.floor((x - place.leftMm) / stepX)
    const row = Math.floor((y - place.bottomMm) / stepY)
    const inside = column >= 0 && column < cells && row >= 0 && row < cells
    let least = Number.POSITIVE_INFINITY
    for (const i of inside ? inCell(column, row) : all) {
      const piece = pieces[i]!
      const { t, off } = toPiece(piece, x, y)
      const distance = off[0] * off[0] + off[1] * off[1]
      if (distance >= least) continue
      least = distance
      found.curve = piece.curve
      found.along = piece.from + t * piece.length
    }
    found.distance = Math.sqrt(least)
    return found
  }
}

interface Piece {
  readonly curve: number
  readonly x: number
  readonly y: number
  readonly dx: number
  readonly dy: number
  readonly length: number
  /** Along the curve at its beginning, mm. */
  readonly from: number
}

function piecesOf(curves: readonly Curve[]): readonly Piece[] {
  const count = curves.reduce((sum, one) => sum + one.points.length, 0)
  const step = Math.ceil(count / mostPieces)
  return curves.flatMap(({ points, closed }, curve) => {
    const thin = points.filter((_, i) => i % step === 0 || i === points.length - 1)
    const ring = closed && thin.length > 0 ? [...thin, thin[0]!] : thin
    let from = 0
    return ring.slice(1).flatMap((to, i): Piece[] => {
      const [x, y] = ring[i]!
      const length = apart(ring[i]!, to)
      const piece = { curve, x, y, dx: to[0] - x, dy: to[1] - y, length, from }
      from += length
      return length > 0 ? [piece] : []
    })
  })
}

function toPiece({ x, y, dx, dy, length }: Piece, px: number, py: number) {
  const t = Math.max(0, Math.min(1, ((px - x) * dx + (py - y) * dy) / (length * length)))
  return { t, off: [px - x - t * dx, py - y - t * dy] as const }
}

const apart = (a: PointMm, b: PointMm): number => Math.hypot(b[0] - a[0], b[1] - a[1])
