import { ClipMaker, type ClipNode, isSame, liesWithin } from './clips.ts'
import type {
  Blending,
  Clip,
  GroupMark,
  InkBlend,
  InkField,
  Mark,
  Matrix,
  SoftMask,
  Tiling,
  Tints,
} from './mark.ts'
import { inverse, times } from './matrix.ts'
import {
  allBounds,
  type Bounds,
  boundsThrough,
  fillOutline,
  isEmpty,
  join,
  meet,
  noBounds,
  type Outline,
  strokeOutline,
} from './outline.ts'

/** Marks made ready to be painted: in pixels, with what they reach. */
export type Node = LeafNode | GroupNode | TilingNode

interface Look {
  /** What it reaches at most, pixels. */
  readonly bounds: Bounds
  readonly clip: ClipNode | null
  readonly alpha: number
  readonly blend: InkBlend
  readonly mask: MaskNode | null
  readonly alphaIsShape: boolean
}

export interface LeafNode extends Look {
  readonly kind: 'leaf'
  readonly outline: Outline
  readonly paint: Tints | Sampled
  readonly overprint: boolean
}

/** A field and how pixels lie in its space. */
export interface Sampled {
  readonly field: InkField
  readonly fromPixels: Matrix
}

export interface GroupNode extends Look {
  readonly kind: 'group'
  readonly children: readonly Node[]
  readonly isolated: boolean
  readonly knockout: boolean
  readonly blending: Blending | null
  /** Its marks laid one by one into what lies around it give the same, unless that is a knock-out group. */
  readonly direct: boolean
}

/** A shape filled with a cell that repeats: a group, not isolated, of all its copies (ISO 32000-2, 11.6.7). */
export interface TilingNode extends Look {
  readonly kind: 'tiling'
  /** The shape that is filled. */
  readonly shape: ClipNode
  /** Of the cell at 0, 0. */
  readonly children: readonly Node[]
  /** What one cell reaches, pixels. */
  readonly cell: Bounds
  readonly tiling: Tiling
  readonly toPixels: Matrix
  readonly fromPixels: Matrix
  readonly direct: boolean
  /** Copies lie edge to edge, and what is drawn reaches the edges. */
  readonly abuts: boolean
}

export interface MaskNode {
  readonly from: SoftMask['from']
  readonly children: readonly Node[]
  readonly clip: ClipNode | null
  readonly bounds: Bounds
  readonly backdrop: number
  readonly transfer: SoftMask['transfer']
}

/** Which marks are made ready. */
export interface Wanted {
  readonly layer: (layer: number | null) => boolean
  readonly mark: (mark: Mark) => boolean
}

const everything: Wanted = { layer: () => true, mark: () => true }

/** Makes marks ready. `toPixels`: from the space that they are drawn in. */
export class NodeMaker {
  readonly #toPixels: Matrix
  readonly #fromPixels: Matrix
  readonly #clips: ClipMaker
  readonly #all: Bounds
  readonly #masks: Map<SoftMask, MaskNode>

  constructor(toPixels: Matrix, all: Bounds = allBounds) {
    this.#toPixels = toPixels
    this.#fromPixels = inverse(toPixels) ?? [0, 0, 0, 0, 0, 0]
    this.#all = all
    this.#clips = new ClipMaker(toPixels, all)
    this.#masks = new Map()
  }

  /** Those that are wanted and reach what is asked for. A mark in no layer lies in that of the group around it. */
  nodes(marks: readonly Mark[], wanted: Wanted, layer: number | null = null): Node[] {
    return marks.flatMap(mark => this.#node(mark, wanted, mark.layer ?? layer) ?? [])
  }

  clip(clip: Clip | null): ClipNode | null {
    return this.#clips.node(clip)
  }

  #node(mark: Mark, wanted: Wanted, layer: number | null): Node | null {
    if (mark.kind === 'group') return this.#group(mark, wanted, layer)
    if (!wanted.layer(layer) || !wanted.mark(mark)) return null
    const outline =
      mark.kind === 'fill'
        ? fillOutline(mark.path, mark.rule, this.#toPixels)
        : strokeOutline(mark.path, mark.style, times(mark.matrix, this.#toPixels))
    if (outline === null) return null
    // An outline filled inside itself is that outline.
    let { clip } = mark
    while (clip !== null && mark.kind === 'fill' && isSame(clip, mark)) clip = clip.within
    const look = this.#look({ ...mark, clip }, outline.bounds)
    if (isEmpty(look.bounds)) return null
    switch (mark.paint.kind) {
      case 'tints':
        return { kind: 'leaf', ...look, outline, paint: mark.paint, overprint: mark.overprint }
      case 'field': {
        const paint = { field: mark.paint.field, fromPixels: this.#fromPixels }
        return { kind: 'leaf', ...look, outline, paint, overprint: mark.overprint }
      }
      case 'tiling':
        return this.#tiling(mark.paint.tiling, look, outline)
    }
  }

  #group(mark: GroupMark, wanted: Wanted, layer: number | null): GroupNode | null {
    const children = this.nodes(mark.marks, wanted, layer)
    if (children.length === 0) return null
    const look = this.#look(mark, around(children))
    if (isEmpty(look.bounds)) return null
    // What all of its marks are cut by already need not cut the group once more.
    const { clip } = look
    const cutAlready = clip !== null && children.every(child => liesWithin(child.clip, clip))
    const { isolated, knockout } = mark
    const blending = mark.blending ?? null
    const plain = !knockout && blending === null && isPlain(look)
    const direct = plain && (!isolated || children.every(standsAlone))
    const own = { children, isolated, knockout, blending, direct }
    return { kind: 'group', ...look, clip: cutAlready ? null : clip, ...own }
  }

  #tiling(tiling: Tiling, look: Look, outline: Outline): TilingNode | null {
    const toPixels = times(tiling.matrix, this.#toPixels)
    const fromPixels = inverse(toPixels)
    if (fromPixels === null) return null
    const cell = boundsThrough(tiling.box, toPixels)
    const children = new NodeMaker(toPixels).cut(tiling, cell)
    if (children.length === 0) return null
    // Several marks are cut to the shape together: one by one they would show through one another along its edge.
    const direct = isPlain(look) && children.length === 1
    const abuts = meetsItself(tiling) && children.some(({ bounds }) => !isInside(bounds, cell, -slack))
    const shape = { rectangle: allBounds, bounds: outline.bounds, outline, within: null }
    return { kind: 'tiling', ...look, shape, children, cell, tiling, toPixels, fromPixels, direct, abuts }
  }

  /** Marks of a cell, cut to its box where they reach beyond it. */
  cut(tiling: Tiling, cell: Bounds): readonly Node[] {
    const children = this.nodes(tiling.marks, everything)
    if (children.every(({ bounds }) => isInside(bounds, cell, slack))) return children
    const [left, bottom, right, top] = tiling.box
    const points = Float64Array.of(left, bottom, right, bottom, right, top, left, top)
    const path = { steps: Uint8Array.of(0, 1, 1, 1, 3), points }
    const clip = this.clip({ path, rule: 'nonzero', within: null })
    const look = { clip, alpha: 1, blend: 'normal', mask: null, alphaIsShape: false } as const
    const bounds = meet(around(children), cell)
    if (isEmpty(bounds)) return []
    const plain = { isolated: false, knockout: false, blending: null, direct: true } as const
    return [{ kind: 'group', ...look, bounds, children, ...plain }]
  }

  #look(mark: Mark, reach: Bounds): Look {
    const clip = this.#clips.node(mark.clip)
    const bounds = meet(clip?.bounds ?? this.#all, reach)
    const mask = mark.softMask === null ? null : this.#mask(mark.softMask)
    const alpha = Math.min(1, Math.max(0, mark.alpha))
    return { bounds, clip, alpha, blend: mark.blend, mask, alphaIsShape: mark.alphaIsShape === true }
  }

  #mask(mask: SoftMask): MaskNode {
    let made = this.#masks.get(mask)
    if (made === undefined) {
      const children = this.nodes(mask.marks, everything)
      const clip = this.#clips.node(mask.clip)
      const bounds = meet(clip?.bounds ?? this.#all, around(children))
      made = { from: mask.from, children, clip, bounds, backdrop: mask.backdrop, transfer: mask.transfer }
      this.#masks.set(mask, made)
    }
    return made
  }
}

const around = (nodes: readonly Node[]): Bounds =>
  nodes.reduce((sum, node) => join(sum, node.bounds), noBounds)

const isPlain = (look: Look): boolean => look.alpha === 1 && look.blend === 'normal' && look.mask === null

/** Pixels that edges may differ by and count as one. */
const slack = 1e-4

const isInside = (bounds: Bounds, cell: Bounds, by: number): boolean =>
  bounds[0] >= cell[0] - by &&
  bounds[1] >= cell[1] - by &&
  bounds[2] <= cell[2] + by &&
  bounds[3] <= cell[3] + by

/** Whether copies of a cell touch one another along a side without lying over one another. */
function meetsItself({ box, stepX, stepY }: Tiling): boolean {
  const width = box[2] - box[0]
  const height = box[3] - box[1]
  const gapX = Math.abs(stepX) / width - 1
  const gapY = Math.abs(stepY) / height - 1
  const least = -1e-4
  return gapX > least && gapY > least && Math.min(gapX, gapY) < -least
}

/** Whether a mark never asks what lies below it, so that it may be laid outside its isolated group. */
function standsAlone(node: Node): boolean {
  if (node.blend !== 'normal') return false
  switch (node.kind) {
    case 'leaf':
      return !node.overprint
    case 'group':
      return node.children.every(standsAlone)
    case 'tiling':
      return node.children.every(standsAlone)
  }
}
