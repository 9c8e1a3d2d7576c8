import type { Blank, Hinge } from '../blank.ts'
import type { Fold } from './creases.ts'
import type { NamedPanel } from './panel-names.ts'
import type { Branch } from './tree.ts'

/** When parts of a carton fold, as shares of the fold slider: the body first, then what closes its ends from inside out. */
const order: Readonly<Record<NamedPanel['part'], readonly [begins: number, ends: number] | null>> = {
  wall: [0, 0.25],
  'glue flap': [0.12, 0.28],
  'last wall': [0.28, 0.44],
  corner: [0.44, 0.55],
  'dust flap': [0.45, 0.6],
  flap: [0.6, 0.9],
  tongue: [0.6, 0.75],
  lid: [0.75, 1],
  panel: null,
}

/**
 * How a drawn crease folds until the user says otherwise: a right angle away from the print, toward it where it is
 * creased from the other side; a corner that is glued flat turns over. Panels without a part follow each other from the
 * root outward.
 */
export function hingeOf(
  { fold, parent, child, depth }: Branch,
  names: readonly NamedPanel[],
  deepest: number,
  reverse: (fold: Fold) => boolean,
): Hinge {
  const [from, to] = [names[parent]!, names[child]!]
  const [begins, ends] = order[to.part] ?? [(depth - 1) / deepest, depth / deepest]
  return {
    name: to.name,
    parent: from.name,
    child: to.name,
    from: fold.from,
    to: fold.to,
    closedDeg: (to.part === 'corner' ? 180 : 90) * (reverse(fold) ? -1 : 1),
    begins,
    ends,
  }
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
