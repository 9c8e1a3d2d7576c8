import { flattenCurve, type LineSink } from './ink/flatten.ts'
import type { OutlinePath } from './layer.ts'

/** How far a piece may leave its curve, pixels. */
const tolerance = 0.01

/**
 * Gives an outline as straight pieces: document pixels, y down. An open one is closed by a straight line, as filling does.
 * @param ppi     pixels per inch of the document
 * @param height  document height, pixels
 */
export function flattenOutline(path: OutlinePath, ppi: number, height: number, sink: LineSink): void {
  const scale = ppi / 25.4
  const { knots } = path
  const x = (p: readonly [number, number]) => p[0] * scale
  const y = (p: readonly [number, number]) => height - p[1] * scale
  knots.forEach((knot, i) => {
    if (i === 0) sink.move(x(knot.at), y(knot.at))
    else sink.line(x(knot.at), y(knot.at), false)
    const next = knots[(i + 1) % knots.length]
    if (!next || (i === knots.length - 1 && !path.closed)) return
    flattenCurve(
      [x(knot.at), y(knot.at), x(knot.out), y(knot.out), x(next.in), y(next.in), x(next.at), y(next.at)],
      tolerance,
      (u, v) => sink.line(u, v, true),
    )
  })
  sink.close()
}
