import type { Blank, Hinge } from '../blank.ts'
import type { Point } from '../die.ts'
import { tuckStops } from '../ends/tuck-way.ts'
import type { Fold } from './creases.ts'
import type { NamedPanel } from './panel-names.ts'
import type { RawPanel } from './panels.ts'
import type { Branch } from './tree.ts'

/** When parts of a carton fold, as shares of the fold slider: the body first, then what closes its ends from inside out. */
const order: Readonly<Record<NamedPanel['part'], readonly [begins: number, ends: number] | null>> = {
  wall: [0, 0.25],
  'glue flap': [0.12, 0.28],
  'last wall': [0.28, 0.44],
  pad: [0.44, 0.9],
  'dust flap': [0.45, 0.6],
  'inner flap': [0.6, 0.8],
  flap: [0.6, 0.9],
  'outer flap': [0.8, 1],
  'lock tongue': [0.6, 0.9],
  tongue: [0.6, 1],
  lid: [0.7, 1],
  panel: null,
}

/**
 * How a drawn crease folds until the user says otherwise: a right angle away from the print, toward it where it is
 * creased from the other side. What locks or is glued to its neighbour lies in its flap's plane when all is closed.
 * Panels without a part follow each other from the root outward.
 */
export function hingeOf(
  branch: Branch,
  panels: readonly RawPanel[],
  names: readonly NamedPanel[],
  branches: readonly Branch[],
  caliperMm: number,
  reverse: (fold: Fold) => boolean,
): Hinge {
  const { fold, parent, child, depth } = branch
  const { name, part } = names[child]!
  // Those nearer to the root come first.
  const deepest = branches.at(-1)!.depth
  const [begins, ends] = order[part] ?? [(depth - 1) / deepest, depth / deepest]
  const toward = reverse(fold) ? -1 : 1
  const hinge: Hinge = {
    name,
    parent: names[parent]!.name,
    child: name,
    from: fold.from,
    to: fold.to,
    closedDeg: part === 'pad' || part === 'lock tongue' ? 0 : 90 * toward,
    begins,
    ends,
  }
  // Turned over onto its flap while that one moves, and back when it has arrived.
  if (part === 'pad')
    return {
      ...hinge,
      via: [
        { amount: 0.55, deg: 180 * toward },
        { amount: 0.7, deg: 180 * toward },
      ],
    }
  const lid = branches.find(one => one.child === parent)
  if (part !== 'tongue' || lid === undefined || hinge.closedDeg < 0) return hinge
  const tuck = {
    lid: reachOf(fold.from, fold.to, [lid.fold.from, lid.fold.to]),
    tongue: reachOf(fold.from, fold.to, panels[child]!.outline),
    caliper: caliperMm,
    ease: caliperMm / 4,
  }
  if (tuck.tongue > 0.9 * tuck.lid) return hinge
  return { ...hinge, via: tuckStops(tuck, ...order.lid!) }
}

/** Distance of the farthest of some places from the line through two others, mm. */
export function reachOf(from: Point, to: Point, places: readonly Point[]): number {
  const [dx, dy] = [to[0] - from[0], to[1] - from[1]]
  const length = Math.hypot(dx, dy)
  return places.reduce(
    (most, [x, y]) => Math.max(most, Math.abs((x - from[0]) * dy - (y - from[1]) * dx) / length),
    0,
  )
}

/** The blank with closed angles of the user's own, degrees by the name of a hinge; others stay as they are. */
export function withAngles(blank: Blank, closedDeg: Readonly<Record<string, number>>): Blank {
  return {
    ...blank,
    hinges: blank.hinges.map(hinge => {
      const own = closedDeg[hinge.name]
      return own === undefined ? hinge : { ...hinge, closedDeg: own }
    }),
  }
}
