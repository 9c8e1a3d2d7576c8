import type { OutlinePath } from './layer.ts'

/** A closed polygon, document pixels, y down: x0, y0, x1, y1, … */
export type Polygon = Float64Array

/**
 * Outlines as polygons. Curves are cut until a piece leaves its chord by less than `tolerance` pixels;
 * open outlines are closed by a straight line, as filling does.
 * @param ppi     pixels per inch of the document
 * @param height  document height, pixels
 */
export function flattenOutline(path: OutlinePath, ppi: number, height: number, tolerance = 0.01): Polygon {
  const scale = ppi / 25.4
  const points: number[] = []
  const knots = path.knots
  const x = (p: readonly [number, number]) => p[0] * scale
  const y = (p: readonly [number, number]) => height - p[1] * scale
  knots.forEach((knot, i) => {
    points.push(x(knot.at), y(knot.at))
    const next = knots[(i + 1) % knots.length]
    if (!next || (i === knots.length - 1 && !path.closed)) return
    addCurve(
      points,
      [x(knot.at), y(knot.at), x(knot.out), y(knot.out), x(next.in), y(next.in), x(next.at), y(next.at)],
      tolerance,
    )
  })
  return Float64Array.from(points)
}

type Curve = readonly [number, number, number, number, number, number, number, number]

/** Inner points of a cubic; the ends belong to the knots. */
function addCurve(points: number[], [x0, y0, x1, y1, x2, y2, x3, y3]: Curve, tolerance: number): void {
  // A cubic cut into n equal steps strays from its chords by at most 3/4 of its largest second difference over n².
  const bend = Math.max(
    Math.hypot(x0 - 2 * x1 + x2, y0 - 2 * y1 + y2),
    Math.hypot(x1 - 2 * x2 + x3, y1 - 2 * y2 + y3),
  )
  const n = Math.min(4096, Math.ceil(Math.sqrt((0.75 * bend) / tolerance)))
  for (let i = 1; i < n; i++) {
    const t = i / n
    const u = 1 - t
    const a = u * u * u
    const b = 3 * u * u * t
    const c = 3 * u * t * t
    const d = t * t * t
    points.push(a * x0 + b * x1 + c * x2 + d * x3, a * y0 + b * y1 + c * y2 + d * y3)
  }
}
