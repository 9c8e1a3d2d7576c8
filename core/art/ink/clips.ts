import type { Clip, Matrix } from './mark.ts'
import { type Bounds, fillOutline, meet, noBounds, type Outline, rectangleOf } from './outline.ts'

/** A clip made ready: what its rectangles leave, and the outlines that cut further. */
export interface ClipNode {
  /** What its own and all outer rectangles leave, pixels. */
  readonly rectangle: Bounds
  /** What all of it leaves, at most. */
  readonly bounds: Bounds
  /** Its own outline; null where it is a rectangle. */
  readonly outline: Outline | null
  readonly within: ClipNode | null
}

/** Makes clips ready; those that share beginnings share what is made of them. */
export class ClipMaker {
  readonly #made = new Map<Clip, ClipNode>()
  readonly #toPixels: Matrix
  readonly #all: Bounds

  /** @param all  what is left where nothing is clipped */
  constructor(toPixels: Matrix, all: Bounds) {
    this.#toPixels = toPixels
    this.#all = all
  }

  node(clip: Clip | null): ClipNode | null {
    // Chains may be long: no recursion.
    const chain: Clip[] = []
    for (let c = clip; c !== null && !this.#made.has(c); c = c.within) chain.push(c)
    for (let c = chain.pop(); c !== undefined; c = chain.pop()) this.#made.set(c, this.#make(c))
    return clip === null ? null : this.#made.get(clip)!
  }

  #make(clip: Clip): ClipNode {
    const within = clip.within === null ? null : this.#made.get(clip.within)!
    if (within !== null && clip.within !== null && isSame(clip, clip.within)) return within
    const outer = within ?? { rectangle: this.#all, bounds: this.#all }
    const own = rectangleOf(clip.path, this.#toPixels)
    if (own !== null) {
      const rectangle = meet(outer.rectangle, own)
      return { rectangle, bounds: meet(outer.bounds, own), outline: null, within }
    }
    const outline = fillOutline(clip.path, clip.rule, this.#toPixels)
    const bounds = outline === null ? noBounds : meet(outer.bounds, outline.bounds)
    return { rectangle: outer.rectangle, bounds, outline, within }
  }
}

/** Whether two outlines have the same inside because they are drawn alike: shares of pixels must not count twice. */
export function isSame(a: Drawn, b: Drawn): boolean {
  const [p, q] = [a.path, b.path]
  return (
    a.rule === b.rule &&
    (p === q ||
      (p.points.length === q.points.length &&
        p.steps.length === q.steps.length &&
        p.points.every((value, i) => value === q.points[i]) &&
        p.steps.every((step, i) => step === q.steps[i])))
  )
}

type Drawn = Pick<Clip, 'path' | 'rule'>

/** Whether `outer` is `clip` or one that it lies within. */
export function liesWithin(clip: ClipNode | null, outer: ClipNode): boolean {
  for (let c = clip; c !== null; c = c.within) if (c === outer) return true
  return false
}
