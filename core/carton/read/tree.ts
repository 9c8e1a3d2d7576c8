import type { Fold } from './creases.ts'
import type { RawPanel } from './panels.ts'

/** A fold as it hangs in the tree. */
export interface Branch {
  readonly fold: Fold
  readonly parent: number
  readonly child: number
  /** Folds from the root to here, 1 for those at the root. */
  readonly depth: number
}

export interface HingeTree {
  readonly root: number
  /** Nearer to the root first. */
  readonly branches: readonly Branch[]
  /** Folds that close a loop, each with the panels around it; of many only the two at the fold. */
  readonly loops: readonly { readonly fold: Fold; readonly panels: readonly number[] }[]
}

/** How many rings are followed all the way round; a grid of creases has thousands, and nobody reads them. */
const mostRings = 50

/** The panels as a tree from the root; what closes a loop is left out and told. */
export function treeOf(count: number, folds: readonly Fold[], root: number): HingeTree {
  const at: Fold[][] = Array.from({ length: count }, () => [])
  for (const fold of folds) for (const panel of fold.panels) at[panel]!.push(fold)
  const depth = new Map([[root, 0]])
  const parent = new Map<number, number>()
  const used = new Set<Fold>()
  const branches: Branch[] = []
  const waiting = root < count ? [root] : []
  for (const panel of waiting)
    for (const fold of at[panel]!) {
      const child = fold.panels[0] === panel ? fold.panels[1] : fold.panels[0]
      if (depth.has(child)) continue
      used.add(fold)
      depth.set(child, depth.get(panel)! + 1)
      parent.set(child, panel)
      branches.push({ fold, parent: panel, child, depth: depth.get(child)! })
      waiting.push(child)
    }
  const loops = folds
    .filter(fold => !used.has(fold))
    .map((fold, i) => ({ fold, panels: i < mostRings ? around(fold, parent) : fold.panels }))
  return { root, branches, loops }
}

/** Panels of the loop that a fold closes. */
function around(fold: Fold, parent: ReadonlyMap<number, number>): readonly number[] {
  const up = (panel: number) => {
    const way = [panel]
    for (let at = parent.get(panel); at !== undefined; at = parent.get(at)) way.push(at)
    return way
  }
  const [left, right] = [up(fold.panels[0]), up(fold.panels[1])]
  const meet = left.find(panel => right.includes(panel))!
  return [...left.slice(0, left.indexOf(meet) + 1), ...right.slice(0, right.indexOf(meet)).reverse()]
}

/** Of the panels about as large as the largest, the one nearest to the middle of the blank. */
export function middlePanel(panels: readonly RawPanel[], middle: readonly [number, number]): number {
  const largest = panels.reduce((most, panel) => Math.max(most, panel.areaMm2), 0)
  let best = 0
  let least = Number.POSITIVE_INFINITY
  for (const [i, { areaMm2, center }] of panels.entries()) {
    const distance = Math.hypot(center[0] - middle[0], center[1] - middle[1])
    if (areaMm2 < 0.8 * largest || distance >= least) continue
    best = i
    least = distance
  }
  return best
}
