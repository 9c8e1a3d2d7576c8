import type { Point } from '../../../../core/carton/die.ts'
import type { TestLine } from './drawn.ts'

/** Numbers in [0, 1), the same for a seed. */
export type Chance = () => number

/** mulberry32: a small generator of known period, enough to draw shapes. */
export function chanceOf(seed: number): Chance {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), 1 | state)
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32
  }
}

export interface RandomDie {
  readonly lines: readonly TestLine[]
  /** Middle of each panel, the root first. */
  readonly centers: readonly Point[]
  readonly areas: readonly number[]
  /** Parent of each panel but the root. */
  readonly parents: readonly (readonly [child: number, parent: number])[]
}

interface Leaf {
  readonly cell: readonly [number, number]
  readonly parent: number
  /** Inset of its four edges on the sides that it does not share, mm. */
  readonly box: readonly [left: number, bottom: number, right: number, top: number]
}

const pitch = 40

/**
 * A tree of rectangles on a grid: each new one hangs by a crease on one that is there, and keeps clear of all others.
 * @param count  panels at most
 */
export function randomDie(count: number, chance: Chance): RandomDie {
  const leaves: Leaf[] = [{ cell: [0, 0], parent: -1, box: [0, 0, pitch, pitch] }]
  const taken = new Set(['0 0'])
  for (let tries = 0; leaves.length < count && tries < 20 * count; tries++) {
    const parent = Math.floor(chance() * leaves.length)
    const [dx, dy] = (
      [
        [1, 0],
        [0, 1],
        [-1, 0],
        [0, -1],
      ] as const
    )[Math.floor(chance() * 4)]!
    const from = leaves[parent]!
    const cell = [from.cell[0] + dx, from.cell[1] + dy] as const
    if (taken.has(`${cell[0]} ${cell[1]}`)) continue
    const [x, y] = [cell[0] * pitch, cell[1] * pitch]
    const inset = () => 1 + chance() * 6
    // The shared edge meets the parent's own edge; along it the flap stays within the parent.
    const [l, b, r, t] = from.box
    const box = [
      dx === 1 ? r : dx === -1 ? x + inset() : Math.max(l, x) + inset(),
      dy === 1 ? t : dy === -1 ? y + inset() : Math.max(b, y) + inset(),
      dx === -1 ? l : dx === 1 ? x + pitch - inset() : Math.min(r, x + pitch) - inset(),
      dy === -1 ? b : dy === 1 ? y + pitch - inset() : Math.min(t, y + pitch) - inset(),
    ] as const
    // Flaps get narrower from parent to child; slivers are no panels.
    if (box[2] - box[0] < 4 || box[3] - box[1] < 4) continue
    taken.add(`${cell[0]} ${cell[1]}`)
    leaves.push({ cell, parent, box })
  }
  return {
    lines: drawn(leaves),
    centers: leaves.map(({ box: [l, b, r, t] }) => [(l + r) / 2, (b + t) / 2] as const),
    areas: leaves.map(({ box: [l, b, r, t] }) => (r - l) * (t - b)),
    parents: leaves.flatMap(({ parent }, i) => (parent < 0 ? [] : [[i, parent] as const])),
  }
}

/** Each panel's edges, cut, with its own crease and those of its children taken out. */
function drawn(leaves: readonly Leaf[]): readonly TestLine[] {
  const creases = leaves.flatMap((leaf, i): { of: number; points: readonly [Point, Point] }[] => {
    const parent = leaves[leaf.parent]
    if (parent === undefined) return []
    const [l, b, r, t] = leaf.box
    const [dx, dy] = [leaf.cell[0] - parent.cell[0], leaf.cell[1] - parent.cell[1]]
    const x = dx === 1 ? l : r
    const y = dy === 1 ? b : t
    return [
      {
        of: i,
        points:
          dx !== 0
            ? [
                [x, b],
                [x, t],
              ]
            : [
                [l, y],
                [r, y],
              ],
      },
    ]
  })
  const cuts = leaves.flatMap(({ box: [l, b, r, t] }): TestLine[] => {
    const corners: readonly Point[] = [
      [l, b],
      [r, b],
      [r, t],
      [l, t],
    ]
    return corners.flatMap((from, i) => {
      const to = corners[(i + 1) % 4]!
      return without(
        from,
        to,
        creases.map(({ points }) => points),
      ).map(points => ({ kind: 'cut', points }))
    })
  })
  return [...cuts, ...creases.map(({ points }): TestLine => ({ kind: 'crease', points }))]
}

function without(
  from: Point,
  to: Point,
  creases: readonly (readonly [Point, Point])[],
): readonly (readonly Point[])[] {
  const across = from[0] === to[0] ? 0 : 1
  const along = 1 - across
  const [first, last] = [Math.min(from[along]!, to[along]!), Math.max(from[along]!, to[along]!)]
  const holes = creases
    .filter(([p, q]) => p[across] === from[across] && q[across] === from[across])
    .map(
      ([p, q]) =>
        [
          Math.max(first, Math.min(p[along]!, q[along]!)),
          Math.min(last, Math.max(p[along]!, q[along]!)),
        ] as const,
    )
    .filter(([a, b]) => b > a)
    .sort(([a], [b]) => a - b)
  const parts: (readonly [number, number])[] = []
  let at = first
  for (const [a, b] of [...holes, [last, last] as const]) {
    if (a > at) parts.push([at, a])
    at = Math.max(at, b)
  }
  const place = (value: number): Point => (along === 0 ? [value, from[1]] : [from[0], value])
  return parts.map(([a, b]) => [place(a), place(b)])
}

/** The same lines shuffled, some cut in pieces, some reversed, some drawn through, each end moved by up to `jitter` mm. */
export function disturbed(lines: readonly TestLine[], jitter: number, chance: Chance): readonly TestLine[] {
  const moved = ([x, y]: Point): Point => [x + (2 * chance() - 1) * jitter, y + (2 * chance() - 1) * jitter]
  const pieces = lines.flatMap(({ kind, points }): TestLine[] => {
    const [from, to] = [points[0]!, points.at(-1)!]
    if (chance() < 0.5) return [{ kind, points }]
    const t = 0.2 + 0.6 * chance()
    const middle: Point = [from[0] + t * (to[0] - from[0]), from[1] + t * (to[1] - from[1])]
    return [
      { kind, points: [from, middle] },
      { kind, points: [middle, to] },
    ]
  })
  return pieces
    .map(line => ({ line, key: chance() }))
    .sort((a, b) => a.key - b.key)
    .map(({ line: { kind, points } }) => ({
      kind,
      points: (chance() < 0.5 ? points.toReversed() : points).map(moved),
    }))
}
