import type { Stop } from '../blank.ts'

/**
 * A flap whose tongue is threaded behind the edge of a leaf that is closed already, seen from the side, mm from the
 * flap's panel and outward from the middle of that leaf.
 */
export interface Thread {
  /** Height of the flap's crease; its leaf closes on this level. */
  readonly level: number
  /** From the flap's crease to the tongue's. */
  readonly flap: number
  /** Where the edge is. */
  readonly edge: number
  /** Length of the tongue. */
  readonly tongue: number
  readonly caliper: number
  readonly ease: number
}

const count = 36

/** How far the closed tongue leans behind the edge, radians. */
export const threadLean = (thread: Thread): number => lean(thread, 0)

/** How the tongue turns against its flap while that closes evenly from `begins` to `ends`: always past the edge. */
export function threadStops(thread: Thread, begins: number, ends: number): readonly Stop[] {
  const entry = entryOf(thread)
  const at = (left: number): Stop => ({
    amount: begins + (ends - begins) * (1 - left / (Math.PI / 2)),
    deg: ((left + lean(thread, left)) * 180) / Math.PI,
  })
  const sliding = Array.from({ length: count - 1 }, (_, i) => at((entry * (count - 1 - i)) / count))
  const first = { amount: begins, deg: at(entry).deg }
  return [first, ...(entry < Math.PI / 2 ? [at(entry)] : []), ...sliding]
}

/** Turn that the flap has left when its tongue comes near the edge, radians. */
function entryOf(thread: Thread): number {
  for (let i = 1; i <= 180; i++) {
    const left = (i * Math.PI) / 360
    const [x, y] = crease(thread, left)
    if (Math.hypot(thread.edge - x, y + thread.caliper / 2) > thread.tongue + 3 * thread.caliper) return left
  }
  return Math.PI / 2
}

const crease = ({ level, flap }: Thread, left: number): readonly [number, number] => [
  flap * Math.cos(left),
  level + flap * Math.sin(left),
]

/** Least angle by which the tongue must dip to pass both corners of the edge with half its board and some air. */
function lean(thread: Thread, left: number): number {
  const [x, y] = crease(thread, left)
  const apart = thread.caliper / 2 + thread.ease
  const past = [thread.caliper / 2, -thread.caliper / 2].map(corner => {
    const distance = Math.hypot(thread.edge - x, y - corner)
    return Math.atan2(y - corner, thread.edge - x) + Math.asin(Math.min(1, apart / distance))
  })
  return Math.max(...past)
}
