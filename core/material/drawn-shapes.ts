import { PathWriter } from '../art/ink/path.ts'
import type { Art, Layer, OutlinePath, VectorMask } from '../art/layer.ts'
import type { FillRule, Path } from '../art/path.ts'
import { ancestorsOf } from '../roles/members.ts'
import type { Amount } from '../roles/role.ts'
import type { Source } from './plates.ts'

/** A shape as the art draws it, mm from its lower left corner, y up. */
export interface Shape {
  readonly path: Path
  /** Of a filled shape; null of a line that is drawn with a pen. */
  readonly rule: FillRule | null
  /** Of a line: its width, mm, 0 the thinnest there is; null of a filled shape. */
  readonly penMm: number | null
}

/**
 * The shapes that all of a source is drawn by, where the art keeps them and nothing else changes where its edges run;
 * null where it is painted, or shapes are taken from one another, which leaves edges that nobody drew.
 */
export function drawnShapes(art: Art, source: Source): readonly Shape[] | null {
  if (source.kind === 'channel') {
    const { plane, layers: ids } = source.channel
    if (ids === undefined) return null
    const layers = art.layers.filter(({ id }) => ids.includes(id))
    const shapes = layers.map(layer => (isBare(art, layer) ? layer.outlines : undefined))
    if (shapes.length === 0 || shapes.includes(undefined)) return null
    return shapes.flatMap(list => list!.filter(({ planes }) => planes.includes(plane)))
  }
  const found: Shape[] = []
  for (const layer of source.layers) {
    if (!isAllOrNothing(layer, source.amount)) return null
    const shapes =
      layer.outlines !== undefined && isBare(art, layer)
        ? layer.outlines
        : isOutlined(art, layer)
          ? maskShapes(layer.vectorMask!)
          : null
    if (shapes === null) return null
    found.push(...shapes)
  }
  return found
}

/** Whether all that a layer paints counts as a whole: no tone in it says how much. */
function isAllOrNothing({ fill }: Layer, amount: Amount): boolean {
  if (amount.from === 'alpha') return true
  if (fill === null) return false
  // One flat colour as a stand-in for an ink: black, or the ink in full, is all of it.
  if (amount.from === 'ink') return fill.space === 'CMYK' && fill.values['CMYK'.indexOf(amount.ink)] === 1
  return (
    amount.from === 'darkness' &&
    (fill.space === 'RGB' || fill.space === 'Gray') &&
    fill.values.every(value => value === 0)
  )
}

/** Whether the edge of a layer is its vector mask and nothing else: a plain shape, as solid as it can be. */
export function isOutlined(art: Art, layer: Layer): boolean {
  const { kind, vectorMask } = layer
  return (
    (kind === 'shape' || kind === 'fill') &&
    vectorMask !== null &&
    !vectorMask.disabled &&
    !vectorMask.inverted &&
    vectorMask.density === 1 &&
    vectorMask.feather === 0 &&
    isSolid(layer) &&
    ancestorsOf(art, layer).every(isPlainGroup)
  )
}

const isBare = (art: Art, layer: Layer): boolean =>
  layer.vectorMask === null && isSolid(layer) && ancestorsOf(art, layer).every(isPlainGroup)

const isSolid = ({ mask, opacity, fillOpacity, clipped, effects }: Layer): boolean =>
  (mask === null || mask.disabled) && opacity === 1 && fillOpacity === 1 && !clipped && effects.length === 0

const isPlainGroup = ({ mask, vectorMask, opacity }: Layer): boolean =>
  mask === null && vectorMask === null && opacity === 1

/** Shapes of a vector mask that are laid over one another; null where one takes from another. */
function maskShapes({ paths, startsFull }: VectorMask): readonly Shape[] | null {
  if (startsFull) return null
  const shapes: OutlinePath[][] = []
  for (const path of paths) {
    if (path.continues && shapes.length > 0) shapes.at(-1)!.push(path)
    else if (path.combine === 'unite' || shapes.length === 0) shapes.push([path])
    // What is in one of two shapes and not in both is filled by the even-odd rule.
    else if (path.combine === 'exclude' && shapes.length === 1) shapes[0]!.push(path)
    else return null
  }
  return shapes.map(outlines => ({ path: pathOf(outlines), rule: 'evenodd', penMm: null }))
}

/** Outlines as one path; filling closes those that are open. */
export function pathOf(outlines: readonly OutlinePath[]): Path {
  const writer = new PathWriter()
  for (const { knots, closed } of outlines) {
    for (const [i, { at, in: towards }] of knots.entries()) {
      if (i === 0) writer.move(...at)
      else addTo(writer, knots[i - 1]!, { at, in: towards })
    }
    if (closed && knots.length > 1) {
      addTo(writer, knots.at(-1)!, knots[0]!)
      writer.close()
    }
  }
  return writer.path()
}

type Knot = OutlinePath['knots'][number]

function addTo(writer: PathWriter, from: Knot, to: Pick<Knot, 'in' | 'at'>): void {
  const same = (a: Knot['at'], b: Knot['at']) => a[0] === b[0] && a[1] === b[1]
  if (same(from.at, from.out) && same(to.in, to.at)) writer.line(...to.at)
  else writer.curve(...from.out, ...to.in, ...to.at)
}

/** Rings of lines as one shape, a ring inside another being a hole. */
export function ringsShape(rings: readonly (readonly (readonly [x: number, y: number])[])[]): Shape {
  const writer = new PathWriter()
  for (const ring of rings) {
    for (const [i, [x, y]] of ring.entries()) {
      if (i === 0) writer.move(x, y)
      else writer.line(x, y)
    }
    writer.close()
  }
  return { path: writer.path(), rule: 'evenodd', penMm: null }
}
