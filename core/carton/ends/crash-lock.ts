import type { Hinge, Panel } from '../blank.ts'
import type { Outline } from '../die.ts'
import { type Corner, rounded } from '../outline.ts'
import type { MainPanel } from '../spec.ts'
import { type EndMaker, type EndWork, flap, lengthOf, mm, type SidePanel } from './end.ts'

/** A main flap and the side flap that its pad is glued to; the front's pair closes before the back's. */
interface Pair {
  readonly main: MainPanel
  readonly side: SidePanel
  readonly mainTimes: readonly [number, number]
  /** The pad is bent to the print side, and opens flat onto the side flap. */
  readonly padTimes: readonly [begins: number, bent: number, opens: number, ends: number]
}

const sideTimes = [0.45, 0.58] as const
const pairs: readonly Pair[] = [
  { main: 'front', side: 'right side', mainTimes: [0.58, 0.7], padTimes: [0.58, 0.62, 0.68, 0.76] },
  { main: 'back', side: 'left side', mainTimes: [0.76, 0.9], padTimes: [0.76, 0.8, 0.88, 0.98] },
]

const bentDeg = -90

/** Least length of the overlap along the middle, mm. */
const leastOverlap = 6

/**
 * Two main flaps that overlap along the middle. Each has a pad beyond a crease at 45°, glued to the print side of the
 * flap beside it, which lies a caliper further in.
 */
export const crashLock: EndMaker = {
  levels: caliper => ({ 'right side': 0, front: caliper, 'left side': caliper, back: 2 * caliper }),
  inner: 0.5,
  outer: 2.5,
  draw(work) {
    const drawn = pairs.map(pair => pairOf(work, pair))
    return {
      panels: drawn.flatMap(one => one.panels),
      hinges: drawn.flatMap(one => one.hinges),
      rules: {},
      glue: drawn.map(one => one.glue),
      meetings: [],
      reach: { front: 0, back: 0 },
    }
  },
}

function pairOf({ strip, allow, frame, refuse }: EndWork, { main, side, mainTimes, padTimes }: Pair) {
  const { caliper, back, width, last } = strip
  const level = crashLock.levels(caliper)
  const length = lengthOf(strip, main)
  const mid = width / 2
  const over = allow.crashOverlapMm
  const draft = allow.crashDraftMm
  // Where the crease at 45° starts, from the side that the pad is glued to.
  const start = allow.lidInsetMm + 1
  // The pad itself starts clear of the crease under the wall.
  const free = Math.max(2 * caliper, Math.min(2, mid / 8))
  const half = (back + caliper) / 2
  const most = mid - 1.5 * caliper - allow.easeMm
  if (over > most)
    refuse(
      'crash-lock overlap',
      `the flaps go ${mm(over)} past the middle, and the wall is nearer`,
      `Set it to ${mm(Math.max(0, most))} or less, or make the carton wider.`,
    )
  // Clear of the wall beside it, where that reaches as far out as this flap.
  const far = length - caliper / 2 - allow.tuckInsetMm - allow.lidInsetMm
  // The flap under a pad stays on its half, and no deeper than leaves the other pair's overlap its place in the middle.
  const first =
    Math.max(caliper / 2 + allow.easeMm, allow.dustInsetMm, side === 'right side' ? 0 : width - last) + 1
  const end = mid - 1
  const depth = Math.min(end - first - 1, back - half - 1.5 * over - 1 - leastOverlap)
  if (depth < 4 || start + mid + 1 > half - over / 2)
    refuse(
      'width',
      `a crash-lock bottom ${mm(width)} wide and ${mm(back)} long has no room for its pads and the overlap between them`,
      'Make the carton longer, or wider where it is narrow; or choose another bottom.',
    )
  const lean = Math.min(draft, depth / 2)
  // Along the panel from the corner with the pad: front and back run the opposite ways round the carton.
  const along = (p: number) => (main === 'front' ? length - p : p)
  const v = (q: number) => level[main] + q
  const corners = (list: readonly Corner[]) => rounded(list).map(([p, q]) => [along(p), v(q)] as const)
  const leaf = flap(
    frame,
    `${main} flap`,
    main,
    corners([
      [start, 0],
      [start + free, free],
      [start + mid, mid],
      [half - over / 2, mid, 2],
      [half + over / 2, mid + over, 3],
      [length - depth - 1 - over, mid + over, 3],
      [length - depth - 1, mid - 1, 2],
      [far - lean, mid - 1, 4],
      [far, 0],
    ]),
  )
  const pad = flap(
    frame,
    `${main} pad`,
    main,
    corners([
      [start + free, free],
      [start + mid, mid],
      [start + Math.min(draft, mid / 4), mid, 2],
    ]),
  )
  const from = (u: number) => (main === 'back' ? u : width - u)
  const support: readonly Corner[] = [
    [first, 0],
    [first + depth, depth, 2],
    [end, depth, 2],
    [end, 0],
  ]
  const sideCorners = (list: Outline): Outline => list.map(([u, t]) => [from(u), level[side] + t])
  const flapPanel = flap(frame, `${side} flap`, side, sideCorners(rounded(support)))
  const margin = Math.min(allow.glueMarginMm, depth / 4)
  // As far as the pad reaches.
  const glue = flap(
    frame,
    '',
    side,
    sideCorners([
      [first + 3 * margin, margin],
      [first + depth, depth - 2 * margin],
      [end - margin, depth - 2 * margin],
      [end - margin, margin],
    ]),
  ).outline
  const hinges: readonly Hinge[] = [
    {
      name: flapPanel.name,
      parent: side,
      child: flapPanel.name,
      from: frame.at(side, from(first), level[side]),
      to: frame.at(side, from(end), level[side]),
      closedDeg: 90,
      begins: sideTimes[0],
      ends: sideTimes[1],
    },
    {
      name: leaf.name,
      parent: main,
      child: leaf.name,
      from: frame.at(main, along(start), v(0)),
      to: frame.at(main, along(far), v(0)),
      closedDeg: 90,
      begins: mainTimes[0],
      ends: mainTimes[1],
    },
    {
      name: pad.name,
      parent: leaf.name,
      child: pad.name,
      from: frame.at(main, along(start + free), v(free)),
      to: frame.at(main, along(start + mid), v(mid)),
      closedDeg: 0,
      begins: padTimes[0],
      ends: padTimes[3],
      via: [
        { amount: padTimes[1], deg: bentDeg },
        { amount: padTimes[2], deg: bentDeg },
      ],
    },
  ]
  return { panels: [flapPanel, leaf, pad] satisfies readonly Panel[], hinges, glue }
}
