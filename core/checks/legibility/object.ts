import type { Art, Layer } from '../../art/layer.ts'
import type { Point } from '../../carton/die.ts'
import type { Assigned, RoleName } from '../../roles/role.ts'
import type { BoxMm } from '../finding.ts'
import { type MarkedArea, markedBox } from '../marked.ts'

/** Something to be read. */
export type TypeObject = {
  /** Unique; stays while the layer or the mark stays. */
  readonly key: string
  readonly name: string
  /** Mm from the art's lower left corner, y up; may reach beyond the art, and be empty. */
  readonly box: BoxMm
} & (
  | { readonly kind: 'text'; readonly layer: Layer; readonly text: string }
  /** Outlined type: closed shapes as small and as many as letters. */
  | { readonly kind: 'shapes'; readonly layer: Layer }
  /** Marked by hand, because it is pixels among others. */
  | { readonly kind: 'marked'; readonly mark: MarkedArea }
)

/** Finished size, over which the art is stretched. */
export interface Size {
  readonly widthMm: number
  readonly heightMm: number
}

/**
 * All type of the art that is printed: text layers, shape layers that look like letters (see {@link looksLikeLetters}),
 * and what was marked. Layers that are hidden or play no printed role are left out.
 */
export function typeObjects(
  art: Art,
  assigned: readonly Assigned[],
  size: Size,
  marked: readonly MarkedArea[],
): readonly TypeObject[] {
  const layers = new Map(art.layers.map(layer => [layer.id, layer]))
  const roles = new Map(
    assigned.flatMap(({ target, role }) => (target.kind === 'layer' ? [[target.id, role] as const] : [])),
  )
  const shown = (layer: Layer): boolean => {
    if (!layer.visible) return false
    const parent = layer.parent === null ? undefined : layers.get(layer.parent)
    return parent === undefined || shown(parent)
  }
  const found = art.layers.flatMap((layer): TypeObject[] => {
    const role = roles.get(layer.id)
    if (role === undefined || !printed.has(role) || !shown(layer)) return []
    const own = { key: `layer ${layer.id}`, name: layer.name, box: boxOf(art, layer, size), layer }
    if (layer.text !== null) return [{ ...own, kind: 'text', text: layer.text.value }]
    return layer.kind === 'shape' && looksLikeLetters(art, layer, size) ? [{ ...own, kind: 'shapes' }] : []
  })
  const byHand = marked.map(
    (mark): TypeObject => ({
      kind: 'marked',
      key: `mark ${mark.name}`,
      name: mark.name,
      box: markedBox(mark) ?? nowhere,
      mark,
    }),
  )
  return [...found, ...byHand]
}

/** The box of a mark without a point. */
const nowhere: BoxMm = { leftMm: 0, bottomMm: 0, rightMm: 0, topMm: 0 }

const printed: ReadonlySet<RoleName> = new Set(['overprint', 'spotInk', 'white', 'varnish'])

/** Letters that make an object type; fewer are taken for a picture. Ours, no source. */
const fewestLetters = 4
/** Middle height of the letters, mm. */
const letterHeight = [0.4, 10] as const
/** A shape is one of the letters when it is between these parts of the middle height, and at most this wide. */
const likeMiddle = [0.15, 2.5] as const
const mostLike = 0.8

/**
 * Whether outlines look like letters: at least four closed ones, their middle height 0.4 to 10 mm, and four in five
 * of them neither much smaller, taller nor wider than that. Counters are outlines too and do no harm.
 */
export function looksLikeLetters(art: Art, layer: Layer, size: Size): boolean {
  const mask = layer.vectorMask
  if (mask === null || mask.disabled) return false
  const [sx, sy] = stretch(art, size)
  const boxes = mask.paths
    .filter(path => path.closed && path.knots.length >= 3)
    .map(({ knots }) => around(knots.map(({ at: [x, y] }): Point => [x * sx, y * sy])))
  if (boxes.length < fewestLetters) return false
  const heights = boxes.map(box => box.topMm - box.bottomMm).sort((a, b) => a - b)
  const middle = heights[heights.length >> 1]!
  if (!(middle >= letterHeight[0] && middle <= letterHeight[1])) return false
  const like = boxes.filter(box => {
    const longest = Math.max(box.topMm - box.bottomMm, box.rightMm - box.leftMm) / middle
    return longest >= likeMiddle[0] && longest <= likeMiddle[1]
  })
  return like.length >= mostLike * boxes.length
}

/** Finished millimetres for one of the document's, along both sides. */
export function stretch(art: Art, { widthMm, heightMm }: Size): readonly [x: number, y: number] {
  const perMm = (art.resolutionPpi ?? 72) / 25.4
  return [(widthMm * perMm) / art.width, (heightMm * perMm) / art.height]
}

function boxOf(art: Art, { box, text }: Layer, size: Size): BoxMm {
  if (box.right > box.left && box.bottom > box.top) {
    const [x, y] = [size.widthMm / art.width, size.heightMm / art.height]
    return {
      leftMm: box.left * x,
      rightMm: box.right * x,
      topMm: size.heightMm - box.top * y,
      bottomMm: size.heightMm - box.bottom * y,
    }
  }
  const [left, bottom, right, top] = text?.boxMm ?? [0, 0, 0, 0]
  const [sx, sy] = stretch(art, size)
  return { leftMm: left * sx, bottomMm: bottom * sy, rightMm: right * sx, topMm: top * sy }
}

export function around(corners: readonly Point[]): BoxMm {
  const [x, y] = [corners.map(([x]) => x), corners.map(([, y]) => y)]
  return {
    leftMm: Math.min(...x),
    bottomMm: Math.min(...y),
    rightMm: Math.max(...x),
    topMm: Math.max(...y),
  }
}
