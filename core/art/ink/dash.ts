import type { Polyline } from './flatten.ts'
import type { StrokeStyle } from './mark.ts'

/** A pattern shorter than this share of a pixel cannot be seen. */
const shortestPattern = 0.05
/** Patterns along one line, at most. */
const mostPatterns = 2e5

/**
 * Lines cut into dashes (ISO 32000-2, 8.4.3.6). Each line begins the pattern anew; where a closed line begins and ends
 * inside a dash, that dash goes round the corner whole.
 * @param pixel  how long a pixel is in the space of the lines: what is too fine or too much to be drawn is a whole line
 */
export function dashed(
  lines: readonly Polyline[],
  { dash, dashPhase }: Pick<StrokeStyle, 'dash' | 'dashPhase'>,
  pixel: number,
): readonly Polyline[] {
  const period = dash.reduce((sum, length) => sum + length, 0)
  if (dash.length === 0 || !(period > pixel * shortestPattern) || dash.some(length => length < 0))
    return lines
  return lines.flatMap(line => cut(line, dash, dashPhase, period, pixel * 1e-3))
}

/** @param least  length of a dash of no length, so that it has a direction and its caps show */
function cut(
  line: Polyline,
  dash: readonly number[],
  phase: number,
  period: number,
  least: number,
): Polyline[] {
  const n = line.points.length / 2
  if (n === 1 || lengthOf(line) > period * mostPatterns) return [line]
  // An odd number of lengths swaps on and off each time round.
  const round = dash.length % 2 === 1 ? period * 2 : period
  let left = ((phase % round) + round) % round
  let at = 0
  const now = () => dash[at % dash.length]!
  // A dash of no length where the line begins is not passed over.
  while (left > now() || (left === now() && left > 0)) {
    left -= now()
    at++
  }
  left = now() - left
  const on = () => at % 2 === 0
  const beginsOn = on()
  const out: Polyline[] = []
  let points: number[] = []
  let inner: boolean[] = []
  const put = (x: number, y: number, isInner: boolean) => {
    if (points.length >= 2 && points.at(-2) === x && points.at(-1) === y) return
    points.push(x, y)
    inner.push(isInner)
  }
  let ux = 0
  let uy = 0
  const end = () => {
    if (points.length === 2) {
      points.unshift(points[0]! - ux * least, points[1]! - uy * least)
      inner.unshift(false)
    }
    if (points.length > 0) out.push({ points, inner, closed: false })
    points = []
    inner = []
  }
  if (beginsOn) put(line.points[0]!, line.points[1]!, false)
  const pieces = line.closed ? n : n - 1
  for (let i = 0; i < pieces; i++) {
    const j = (i + 1) % n
    const [x0, y0] = [line.points[2 * i]!, line.points[2 * i + 1]!]
    const [x1, y1] = [line.points[2 * j]!, line.points[2 * j + 1]!]
    const length = Math.hypot(x1 - x0, y1 - y0)
    ux = (x1 - x0) / length
    uy = (y1 - y0) / length
    let done = 0
    // A dash that begins where the line ends has no length, but caps; one that ends there may go on round the corner.
    while (length - done > left || (length - done === left && !on())) {
      done += left
      const x = x0 + ((x1 - x0) * done) / length
      const y = y0 + ((y1 - y0) * done) / length
      if (on()) {
        put(x, y, false)
        end()
      }
      at++
      left = now()
      if (on()) put(x, y, false)
    }
    left -= length - done
    if (on()) put(x1, y1, line.inner[j]!)
  }
  const endsOn = on()
  end()
  if (line.closed && beginsOn && endsOn) {
    const first = out[0]!
    if (out.length === 1) return first.points.length / 2 > n ? [line] : out
    const last = out.pop()!
    const corner = line.inner[0]!
    out[0] = {
      points: [...last.points, ...first.points.slice(2)],
      inner: [...last.inner.slice(0, -1), corner, ...first.inner.slice(1)],
      closed: false,
    }
  }
  return out
}

function lengthOf({ points }: Polyline): number {
  let sum = 0
  for (let i = 2; i < points.length; i += 2)
    sum += Math.hypot(points[i]! - points[i - 2]!, points[i + 1]! - points[i - 1]!)
  return sum
}
