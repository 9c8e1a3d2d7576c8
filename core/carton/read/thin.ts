import type { Point } from '../die.ts'

/**
 * A line without the points that change nothing: what is left strays from every point by at most the tolerance.
 * Ends and turns back stay. One look at each point.
 * @param tolerance  mm, > 0
 */
export function thinned(points: readonly Point[], tolerance: number): readonly Point[] {
  const last = points.length - 1
  if (last < 2) return points
  const kept: Point[] = [points[0]!]
  let anchor = points[0]!
  let before = points[0]!
  // Directions from the anchor that pass all points since within the tolerance, about the first of them.
  let middle: number | null = null
  let [low, high] = [0, 0]
  let farthest = 0
  const begin = (at: Point) => {
    anchor = at
    middle = null
    farthest = 0
  }
  for (let i = 1; i <= last; i++) {
    const at = points[i]!
    if (!admit(at)) {
      kept.push(before)
      begin(before)
      admit(at)
    }
    before = at
  }
  kept.push(points[last]!)
  return kept

  function admit([x, y]: Point): boolean {
    const [dx, dy] = [x - anchor[0], y - anchor[1]]
    const distance = Math.hypot(dx, dy)
    if (distance < farthest - tolerance) return false
    farthest = Math.max(farthest, distance)
    if (distance <= tolerance) return true
    const angle = Math.atan2(dy, dx)
    const half = Math.asin(tolerance / distance)
    if (middle === null) {
      middle = angle
      low = -half
      high = half
      return true
    }
    const turn = Math.atan2(Math.sin(angle - middle), Math.cos(angle - middle))
    if (turn < low || turn > high) return false
    low = Math.max(low, turn - half)
    high = Math.min(high, turn + half)
    return true
  }
}
