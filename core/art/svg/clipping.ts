import type { Clip, GroupMark, InkBlend, Look, Mark, SoftMask } from '../ink/mark.ts'
import { inverse } from '../ink/matrix.ts'
import { moved } from '../ink/path.ts'
import type { FillRule, Matrix, Path } from '../path.ts'
import { type Bounds, boundsOf } from './path.ts'

/** The same marks, cut to a path as well. Marks in groups are cut, not their groups: an edge is cut once. */
export function clippedTo(marks: readonly Mark[], path: Path, rule: FillRule): readonly Mark[] {
  const made = new Map<Clip | null, Clip>()
  const cut = (mark: Mark): Mark => {
    if (mark.kind === 'group') return { ...mark, marks: mark.marks.map(cut) }
    const clip = made.get(mark.clip) ?? { path, rule, within: mark.clip }
    made.set(mark.clip, clip)
    return { ...mark, clip }
  }
  return marks.map(cut)
}

/** How an element is laid over what lies below it, as a whole. */
export interface Laid {
  readonly alpha: number
  readonly blend: InkBlend
  readonly softMasks: readonly SoftMask[]
  /** What lies below it does not reach its members. */
  readonly isolated: boolean
}

/** Marks laid down together; one by one where that is the same. */
export function laidDown(marks: readonly Mark[], laid: Laid, layer: number | null): readonly Mark[] {
  const { alpha, blend, softMasks, isolated } = laid
  if (marks.length === 0 || alpha === 0) return []
  const [first] = marks
  const plain = alpha === 1 && blend === 'normal' && softMasks.length === 0
  if (plain && (!isolated || marks.every(mark => mark.blend === 'normal'))) return marks
  const [mask = null, ...others] = softMasks
  if (marks.length === 1 && first!.blend === 'normal' && (mask === null || first!.softMask === null)) {
    const one: Mark = { ...first!, alpha: first!.alpha * alpha, blend, softMask: mask ?? first!.softMask }
    return others.length === 0
      ? [one]
      : laidDown([one], { ...laid, alpha: 1, blend: 'normal', softMasks: others }, layer)
  }
  const look: Look = { clip: null, alpha, blend, softMask: mask, overprint: false, layer }
  const group: GroupMark = { kind: 'group', marks, isolated: true, knockout: false, ...look }
  return others.length === 0
    ? [group]
    : laidDown([group], { alpha: 1, blend: 'normal', softMasks: others, isolated }, layer)
}

/** The box around marks, in the units that the matrix takes to where they lie; pens are not counted. */
export function boundsOfMarks(marks: readonly Mark[], matrix: Matrix): Bounds | null {
  const back = inverse(matrix)
  if (back === null) return null
  let all: Bounds | null = null
  for (const mark of marks) {
    const box: Bounds | null =
      mark.kind === 'group'
        ? boundsOfMarks(mark.marks, matrix)
        : boundsOf(moved(mark.kind === 'fill' ? mark.path : moved(mark.path, mark.matrix), back))
    if (box !== null) all = all === null ? box : around(all, box)
  }
  return all
}

const around = (a: Bounds, b: Bounds): Bounds => [
  Math.min(a[0], b[0]),
  Math.min(a[1], b[1]),
  Math.max(a[2], b[2]),
  Math.max(a[3], b[3]),
]
