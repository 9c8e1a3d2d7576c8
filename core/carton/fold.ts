import { type Blank, type Hinge, hingesFromRoot, panelOf, type Stop } from './blank.ts'
import type { Point } from './die.ts'

/** A rigid motion from the unfolded board (x, y, z = 0 on the print side, +z toward the viewer) to the solid, mm. */
export interface Placing {
  /** 3 × 3, row by row. */
  readonly turn: readonly number[]
  readonly shift: readonly [x: number, y: number, z: number]
}

/** Degrees by the name of a hinge, which the slider then leaves alone. */
export type OwnDegrees = Readonly<Record<string, number>>

/**
 * Where each panel is when the fold slider stands at `amount` (0 flat, 1 closed), by its name.
 * The root stays where it lies on the board. Each hinge turns about its crease at its own depth in the board.
 */
export function fold(blank: Blank, amount: number, own: OwnDegrees = {}): ReadonlyMap<string, Placing> {
  const placings = new Map<string, Placing>([[blank.root, still]])
  for (const crease of creasesOf(blank)) {
    const { hinge } = crease
    const set = own[hinge.name]
    const turn = set === undefined ? turnAt(hinge, amount) : { deg: set, liftMm: 0 }
    placings.set(hinge.child, after(placings.get(hinge.parent)!, hingeTurn(crease, turn)))
  }
  return placings
}

/** Where the child of a hinge would be if that had turned so far and its parent stood there. */
export function turnedFrom(blank: Blank, name: string, parent: Placing, degrees: number): Placing {
  const crease = creasesOf(blank).find(({ hinge }) => hinge.name === name)
  if (crease === undefined) throw new RangeError(`blank: expected a hinge "${name}"`)
  return after(parent, hingeTurn(crease, { deg: degrees, liftMm: 0 }))
}

/** A hinge as it turns: its ends so that the child lies to the right of the way from one to the other. */
interface Crease {
  readonly hinge: Hinge
  readonly from: Point
  readonly to: Point
  /** Of its axis under the print side, mm. */
  readonly depth: number
}

/** The creases of a blank, each after the one that carries its parent. A slider asks at every frame: they are kept. */
function creasesOf(blank: Blank): readonly Crease[] {
  const known = kept.get(blank)
  if (known !== undefined) return known
  const creases = hingesFromRoot(blank).map((hinge): Crease => {
    const [from, to] = alongParent(blank, hinge)
    return { hinge, from, to, depth: hinge.axisMm ?? blank.caliperMm / 2 }
  })
  kept.set(blank, creases)
  return creases
}

const kept = new WeakMap<Blank, readonly Crease[]>()

/** How far a hinge has turned at an amount of the slider, degrees: even between its stops. */
export const degreesAt = (hinge: Hinge, amount: number): number => turnAt(hinge, amount).deg

/** How a hinge stands. */
type Turn = Required<Omit<Stop, 'amount'>>

function turnAt({ begins, ends, closedDeg, via = [] }: Hinge, amount: number): Turn {
  const closed: Turn = { deg: closedDeg, liftMm: 0 }
  if (amount <= begins) return { deg: 0, liftMm: 0 }
  if (amount >= ends) return closed
  let before: Stop = { amount: begins, deg: 0 }
  for (const stop of [...via, { amount: ends, ...closed }]) {
    if (amount <= stop.amount) {
      const share = (amount - before.amount) / (stop.amount - before.amount)
      const { liftMm: from = 0 } = before
      const { liftMm: to = 0 } = stop
      return { deg: before.deg + (stop.deg - before.deg) * share, liftMm: from + (to - from) * share }
    }
    before = stop
  }
  return closed
}

/** A place of the board, z ≤ 0 under its print side, in the folded solid, mm. */
export function placed(
  { turn, shift }: Placing,
  x: number,
  y: number,
  z: number,
): readonly [number, number, number] {
  return [
    turn[0]! * x + turn[1]! * y + turn[2]! * z + shift[0],
    turn[3]! * x + turn[4]! * y + turn[5]! * z + shift[1],
    turn[6]! * x + turn[7]! * y + turn[8]! * z + shift[2],
  ]
}

const still: Placing = { turn: [1, 0, 0, 0, 1, 0, 0, 0, 1], shift: [0, 0, 0] }

/** Turn of the child about the crease, by degrees away from the print side, and off along its own normal. */
function hingeTurn({ from, to, depth: under }: Crease, { deg, liftMm }: Turn): Placing {
  const length = Math.hypot(to[0] - from[0], to[1] - from[1])
  const [ux, uy] = [(to[0] - from[0]) / length, (to[1] - from[1]) / length]
  const c = Math.cos((deg * Math.PI) / 180)
  const s = Math.sin((deg * Math.PI) / 180)
  // Rodrigues' formula about (ux, uy, 0), which has the parent on its left: a point to its right sinks.
  const turn = [
    c + ux * ux * (1 - c),
    ux * uy * (1 - c),
    uy * s,
    ux * uy * (1 - c),
    c + uy * uy * (1 - c),
    -ux * s,
    -uy * s,
    ux * s,
    c,
  ]
  const depth = -under
  const [x, y, z] = placed({ turn, shift: [0, 0, 0] }, from[0], from[1], depth)
  return {
    turn,
    shift: [from[0] - x + liftMm * turn[2]!, from[1] - y + liftMm * turn[5]!, depth - z + liftMm * turn[8]!],
  }
}

/** Ends of the crease so that the child lies to the right of the way from one to the other. */
function alongParent(blank: Blank, { from, to, child }: Hinge): readonly [Point, Point] {
  const { outline } = panelOf(blank, child)
  const left = ([x, y]: Point) => (to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0])
  // Six times the integral of the distance to the left over the panel: right for flaps that reach back past their crease.
  let sum = 0
  for (const [i, a] of outline.entries()) {
    const b = outline[(i + 1) % outline.length]!
    const cross = (a[0] - from[0]) * (b[1] - from[1]) - (a[1] - from[1]) * (b[0] - from[0])
    sum += cross * (left(a) + left(b))
  }
  return sum < 0 ? [from, to] : [to, from]
}

/** First `inner`, then `outer`. */
function after(outer: Placing, inner: Placing): Placing {
  const [a, b] = [outer.turn, inner.turn]
  const turn: number[] = []
  for (let r = 0; r < 9; r += 3)
    for (let c = 0; c < 3; c++) turn.push(a[r]! * b[c]! + a[r + 1]! * b[3 + c]! + a[r + 2]! * b[6 + c]!)
  return { turn, shift: placed(outer, ...inner.shift) }
}
