import type { Blending, FillMark, GroupMark, Ink, Mark, Paint, SoftMask, StrokeMark } from '../ink/mark.ts'
import { type Bounds, join, noBounds } from '../ink/outline.ts'
import type { InkPage } from '../ink/page.ts'
import { turnedPaint } from '../ink/turned-paint.ts'
import { isNowhere, markBounds, meets } from './bounds.ts'
import { joinedText } from './words.ts'

/** Marks of one layer of a page that belong together: a layer of the art. */
export interface Leaf {
  /** Number of the layer of the page; null where the marks lie in none. */
  readonly layer: number | null
  readonly kind: 'text' | 'drawn'
  /** Bottom first, with the marks of groups, but not the groups themselves. */
  readonly marks: readonly PaintMark[]
  /** Numbers of the spot inks that it prints where it prints no process ink; else null. */
  readonly spots: readonly number[] | null
  /** Numbers of all inks that it may print. */
  readonly inks: readonly number[]
  /** The words of a text. */
  readonly text: string | null
  /** Where it can have painted, page mm. */
  readonly bounds: Bounds
}

export type PaintMark = FillMark | StrokeMark

/** The marks of a page sorted into leaves. */
export interface Sorted {
  /** In the order of their lowest marks. */
  readonly leaves: readonly Leaf[]
  /** The marks of the page, `layer` being the number of their leaf; null for groups, which lie in several. */
  readonly marks: readonly Mark[]
}

/** More marks are not held against each other for what lies on type. */
const mostCompared = 20_000

/**
 * Sorts the marks of a page: by its layers; what lies in none by the spot inks that it is drawn in alone; type that
 * nothing of its own layer lies on, block by block.
 * @param process how many of the page's inks are process inks
 */
export function sortMarks(page: InkPage, process: number): Sorted {
  const flat: PaintMark[] = []
  gather(page.marks, page.blending === undefined ? [] : [page.blending], flat)
  const bounds = flat.map(markBounds)
  const spots = flat.map(mark => spotsOf(mark.paint, process))
  const blocks = textBlocks(flat, bounds, spots)
  const keys = flat.map((mark, i) =>
    blocks[i] === null
      ? `${mark.layer} ${mark.layer === null ? (spots[i]?.join(' ') ?? '') : 'drawn'}`
      : `text ${blocks[i]}`,
  )
  const members = new Map<string, number[]>()
  for (const [i, key] of keys.entries()) {
    const known = members.get(key)
    if (known) known.push(i)
    else members.set(key, [i])
  }
  const numbers = new Map([...members.keys()].map((key, i) => [key, i]))
  const leaves = [...members.values()].map((all): Leaf => {
    const marks = all.map(i => flat[i]!)
    const isText = blocks[all[0]!] !== null
    return {
      layer: marks[0]!.layer,
      kind: isText ? 'text' : 'drawn',
      marks,
      spots: joinedSpots(all.map(i => spots[i]!)),
      inks: [...new Set(marks.flatMap(mark => inksOf(mark.paint)))].toSorted((a, b) => a - b),
      text: isText
        ? joinedText(all.map(i => ({ run: (flat[i] as PaintMark).text!, bounds: bounds[i]! })))
        : null,
      bounds: all.reduce<Bounds>((box, i) => (isNowhere(bounds[i]!) ? box : join(box, bounds[i]!)), noBounds),
    }
  })
  const shown = page.layers.map(layer => layer.visible && layer.prints)
  let next = 0
  const renumber = (marks: readonly Mark[]): Mark[] =>
    marks.map((mark): Mark => {
      const softMask = mark.softMask && plainMask(mark.softMask, shown)
      if (mark.kind === 'group')
        return { ...mark, softMask, layer: null, marks: renumber(mark.marks) } satisfies GroupMark
      const layer = numbers.get(keys[next++]!)!
      return { ...mark, softMask, layer, paint: plainPaint(mark.paint, shown) }
    })
  return { leaves, marks: renumber(page.marks) }
}

/** @param blendings  of what the marks lie in, innermost first: they are told in inks */
function gather(marks: readonly Mark[], blendings: readonly Blending[], out: PaintMark[]): void {
  for (const mark of marks)
    if (mark.kind === 'group')
      gather(mark.marks, mark.blending === undefined ? blendings : [mark.blending, ...blendings], out)
    else if (blendings.length === 0) out.push(mark)
    else out.push({ ...mark, paint: blendings.reduce(turnedPaint, mark.paint) })
}

/** Spot inks of a paint that has no process ink; null where it has some. */
function spotsOf(paint: Paint, process: number): readonly number[] | null {
  const inks = inksOf(paint)
  return inks.length > 0 && inks.every(ink => ink >= process) ? inks : null
}

export function inksOf(paint: Paint): readonly number[] {
  switch (paint.kind) {
    case 'tints':
      return paint.inks
    case 'field':
      return paint.field.inks
    case 'tiling': {
      const cell: PaintMark[] = []
      gather(paint.tiling.marks, [], cell)
      return [...new Set(cell.flatMap(mark => inksOf(mark.paint)))].toSorted((a, b) => a - b)
    }
  }
}

function joinedSpots(all: readonly (readonly number[] | null)[]): readonly number[] | null {
  if (all.some(one => one === null)) return null
  return [...new Set(all.flatMap(one => one!))].toSorted((a, b) => a - b)
}

/** Number of the block of each mark that is type of its own; null for all others. */
function textBlocks(
  marks: readonly PaintMark[],
  bounds: readonly Bounds[],
  spots: readonly (readonly number[] | null)[],
): readonly (number | null)[] {
  const painted = marks.flatMap((mark, i) => (mark.text === null ? [i] : []))
  const free = marks.map((mark, i) => mark.text !== null && !isNowhere(bounds[i]!) && !covered(i))
  let block = -1
  let before = -1
  return free.map((own, i) => {
    if (!own) return null
    if (before < 0 || !goesOn(before, i)) block++
    before = i
    return block
  })

  /** Whether something else of the same layer that was painted later lies on it. */
  function covered(i: number): boolean {
    const later = painted.slice(painted.findLastIndex(j => j < i) + 1)
    if (later.length > mostCompared) return true
    return later.some(j => marks[j]!.layer === marks[i]!.layer && meets(bounds[i]!, bounds[j]!))
  }

  /** Whether type goes on where other type left off: same layer, inks and size, and near. */
  function goesOn(from: number, to: number): boolean {
    const [a, b] = [marks[from]!, marks[to]!]
    if (a.layer !== b.layer || spots[from]?.join() !== spots[to]?.join()) return false
    if (a.text === b.text) return true
    const size = a.text!.sizeMm
    if (Math.abs(b.text!.sizeMm - size) > 0.05 * size || a.text!.fontName !== b.text!.fontName) return false
    if (!sameTints(a.paint, b.paint)) return false
    const [left, bottom, right, top] = bounds[from]!
    const reach: Bounds = [left - size, bottom - size, right + size, top + size]
    return meets(reach, bounds[to]!)
  }
}

export function sameTints(a: Paint, b: Paint): boolean {
  if (a.kind !== 'tints' || b.kind !== 'tints') return a === b
  const same = (x: readonly number[], y: readonly number[]) =>
    x.length === y.length && x.every((value, i) => value === y[i])
  return same(a.inks, b.inks) && same(a.values, b.values)
}

/** What a cell or a mask is made of belongs to whoever is painted with it: only what the file hides falls away. */
function plainMarks(marks: readonly Mark[], shown: readonly boolean[]): readonly Mark[] {
  return marks
    .filter(mark => mark.layer === null || shown[mark.layer])
    .map((mark): Mark => {
      const own = { layer: null, softMask: mark.softMask && plainMask(mark.softMask, shown) }
      if (mark.kind === 'group') return { ...mark, ...own, marks: plainMarks(mark.marks, shown) }
      return { ...mark, ...own, paint: plainPaint(mark.paint, shown) }
    })
}

const plainMask = (mask: SoftMask, shown: readonly boolean[]): SoftMask => ({
  ...mask,
  marks: plainMarks(mask.marks, shown),
})

/** Cells and masks are shared by many marks, and stay shared. */
const plainPaints = new WeakMap<Paint, Paint>()

function plainPaint(paint: Paint, shown: readonly boolean[]): Paint {
  if (paint.kind !== 'tiling') return paint
  const known = plainPaints.get(paint)
  if (known) return known
  const { tiling } = paint
  const made: Paint = { kind: 'tiling', tiling: { ...tiling, marks: plainMarks(tiling.marks, shown) } }
  plainPaints.set(paint, made)
  return made
}

/** How an ink is called in a list of layers. */
export const inkNames = (inks: readonly Ink[], numbers: readonly number[]): string =>
  numbers.map(number => inks[number]!.name).join(' and ')
