import type { Hinge, Panel } from '../blank.ts'
import type { Outline } from '../die.ts'
import { type Corner, rounded } from '../outline.ts'
import type { MainPanel } from '../spec.ts'
import { type EndMaker, type EndWork, flap, lengthOf, type Meeting, mm, type SidePanel } from './end.ts'
import { askewDeg, cornerTurns, domeOf, gluedCalipers, type Pose, squaringUp } from './square-up.ts'

/** A main flap and the side flap that its pad is glued to. */
interface Pair {
  readonly main: MainPanel
  readonly side: SidePanel
}

const pairs: readonly Pair[] = [
  { main: 'front', side: 'right side' },
  { main: 'back', side: 'left side' },
]

/** Least length of the overlap along the middle, mm. */
const leastOverlap = 5

/** Least overlap, in calipers: with less the flaps would cross too steeply to be a bottom. */
const steepest = 4.5

/**
 * Two main flaps that cross in the middle, the longer half of each on the shorter half of the other. Each has a pad
 * beyond a crease at 45°, glued under the flap beside it: its bare side on the print of that one, which so has the
 * glue zone. The fold slider turns all flaps in, closes the body askew, where they are glued, and squares it up: then
 * walls and flaps move together as the glued corners make them, until the flaps lie on each other and hold.
 */
export const crashLock: EndMaker = {
  uses: ['crashOverlapMm', 'crashDraftMm', 'tuckInsetMm', 'lidInsetMm', 'dustInsetMm'],
  levels: caliper => ({
    'right side': 0,
    front: gluedCalipers * caliper,
    'left side': 0,
    back: gluedCalipers * caliper,
  }),
  faces({ caliper, width, allow: { crashOverlapMm: over } }) {
    const dome = domeOf(caliper, over)
    const face = (caliper / 2) * Math.cos(dome)
    return {
      inner: (width / 2 + over) * Math.sin(dome) - gluedCalipers * caliper + face,
      outer: gluedCalipers * caliper + face,
    }
  },
  squaring: (strip, { crashOverlapMm }) => squaringUp(strip, domeOf(strip.caliper, crashOverlapMm)),
  draw(work) {
    const poses = work.poses ?? []
    const drawn = pairs.map(pair => pairOf(work, pair, poses))
    return {
      panels: drawn.flatMap(one => one.panels),
      hinges: drawn.flatMap(one => one.hinges),
      rules: Object.fromEntries(drawn.map(one => [one.pad, 'reverse-crease'] as const)),
      glue: drawn.map(one => one.glue),
      meetings: drawn.flatMap(one => one.meetings),
      reach: { front: 0, back: 0 },
      risesMm: risen(work, Math.max(...drawn.map(one => one.depth))),
    }
  },
}

function pairOf({ strip, allow, frame, refuse }: EndWork, { main, side }: Pair, poses: readonly Pose[]) {
  const { caliper, back, width, last } = strip
  const level = crashLock.levels(caliper)
  const length = lengthOf(strip, main)
  const mid = width / 2
  const over = allow.crashOverlapMm
  const draft = allow.crashDraftMm
  // The crease at 45° runs from the corner of the walls; flap and pad start clear of the crease under the wall.
  const start = Math.max(3 * caliper, Math.min(2, mid / 8))
  const most = mid - 1.5 * caliper - allow.easeMm
  if (over > most)
    refuse(
      'crash-lock overlap',
      `the flaps go ${mm(over)} past the middle, and the wall is nearer`,
      `Set it to ${mm(Math.max(0, most))} or less, or make the carton wider.`,
    )
  const leastOver = steepest * caliper
  if (over < leastOver)
    refuse(
      'crash-lock overlap',
      `the flaps go ${mm(over)} past the middle, and a board of ${mm(caliper)} needs ${mm(leastOver)} to cross there`,
      `Set it to ${mm(leastOver)} or more.`,
    )
  // Half of a main flap ends short of the middle, half goes past it. Between them its edge runs at 45° through the
  // middle: so the flaps pass each other while the body is askew, and cross when it is square.
  const short = mid - over / 2
  const half = (back + caliper) / 2 + 1.5 * caliper
  const edge = (q: number): Corner => [half + q - mid, q, 0]
  // Clear of the wall beside it, where that reaches as far out as this flap.
  const far = length - caliper / 2 - allow.tuckInsetMm - allow.lidInsetMm
  // The flap under a pad stays on its half, and no deeper than leaves the other pair's overlap its place in the middle.
  const first = Math.max(
    Math.max(caliper / 2 + allow.easeMm, allow.dustInsetMm, side === 'right side' ? 0 : width - last) + 1,
    // Clear of the main flap where that stands up from the crease at 45°.
    2.4 * caliper,
  )
  const end = mid - 1
  const corner = over / 4
  const depth = Math.min(end - first - 1, length - half - over - corner - 1 - leastOverlap, short)
  if (depth < 4 || short + 1 > half - over / 2)
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
      [start, start],
      [short, short],
      edge(short),
      [half + over, mid + over, Math.min(2, over / 3)],
      [length - depth - 1 - corner, mid + over, Math.min(3, over / 3)],
      [length - depth - 1, mid - 1, 2],
      [far - lean, mid - 1, 4],
      [far, 0],
    ]),
  )
  // The pad's side toward the wall beside it leans in.
  const inward = start + Math.min(draft, mid / 4)
  const pad = flap(
    frame,
    `${main} pad`,
    main,
    corners([
      [start, start],
      [short, short],
      [inward, short, 2],
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
  const zone = glueZone({ first, inward, depth, reach: Math.min(end, short) }, allow.glueMarginMm)
  const glue = flap(frame, '', side, sideCorners(zone)).outline
  const turns = cornerTurns(poses, main, caliper, { level: level[main], apart: level[main] })
  const hung = (name: string, parent: string) => ({ name, parent, child: name })
  const hinges: readonly Hinge[] = [
    {
      ...hung(flapPanel.name, side),
      ...turns.flap,
      from: frame.at(side, from(first), level[side]),
      to: frame.at(side, from(end), level[side]),
    },
    {
      ...hung(leaf.name, main),
      ...turns.flap,
      from: frame.at(main, along(start), v(0)),
      to: frame.at(main, along(far), v(0)),
    },
    {
      ...hung(pad.name, leaf.name),
      ...turns.pad,
      from: frame.at(main, along(start), v(start)),
      to: frame.at(main, along(short), v(short)),
    },
  ]
  // A place of the side flap, and that of the pad which is as far from the same two walls.
  const meetings = [0, 2].map((which): Meeting => {
    const [u, t] = zone[which]!
    return {
      name: `${pad.name}, ${which === 0 ? 'outer' : 'inner'} end of the glue`,
      a: { panel: pad.name, at: frame.at(main, along(t), v(u)) },
      b: { panel: flapPanel.name, at: frame.at(side, from(u), level[side] + t) },
    }
  })
  return {
    panels: [flapPanel, leaf, pad] satisfies readonly Panel[],
    hinges,
    glue,
    meetings,
    pad: pad.name,
    depth,
  }
}

/** Where side flap and pad lie on each other, mm from their two walls. */
interface Shared {
  /** From the main panel to the side flap, at its crease. */
  readonly first: number
  /** From the side to the pad. */
  readonly inward: number
  /** Of the side flap. */
  readonly depth: number
  /** From the main panel as far as both go. */
  readonly reach: number
}

/** Where the pad comes on the side flap, within `margin` of the edges of both where they have room for it. */
function glueZone({ first, inward, depth, reach }: Shared, margin: number): Outline {
  const m = Math.min(margin, (reach - first - inward) / 6)
  const [low, high] = [inward + m, Math.min(depth, reach - first - 2.5 * m) - m]
  return [
    [first + low + 1.5 * m, low],
    [first + high + 1.5 * m, high],
    [reach - m, high],
    [reach - m, low],
  ]
}

/** How high the side flaps come along their walls while the body lies askew; under a narrow glue flap only by their board, mm. */
function risen({ strip: { caliper, width }, allow: { glueMm } }: EndWork, depth: number): number {
  if (width - glueMm < width / 2 + caliper) return depth + caliper
  return (2.5 * caliper) / Math.tan(Math.asin(Math.tan((askewDeg * Math.PI) / 360)))
}
