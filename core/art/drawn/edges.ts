import { boxIndex } from '../../base/box-index.ts'
import { type Rings, united } from '../../base/polygons.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import type { Clip, GroupMark, Look, Mark } from '../ink/mark.ts'
import type { Bounds } from '../ink/outline.ts'
import type { EdgeStep } from '../layer.ts'
import { isNowhere, markBounds, meets } from './bounds.ts'
import type { PaintMark } from './leaves.ts'
import { MarkRings } from './mark-rings.ts'

/** What a mark does where it covers: adds to what is looked at, takes from it, or leaves it as it was. */
export type Effect = 'lays' | 'takes' | 'leaves'

/** Of a mark that is laid down solid: null where that is not one thing, absent where it plays no part. */
export type EffectOf = (mark: PaintMark) => Effect | 'absent' | null

/** The outlines of a page that end something, and the marks that they are of. */
export interface MarkEdges {
  readonly steps: readonly EdgeStep[]
  /** Marks of which the steps have all. */
  readonly marks: ReadonlySet<Mark>
  /** Whether anything is left that is none of them. */
  readonly isAll: boolean
}

/** Numbers of points of the outlines that are looked at. */
const mostPoints = 4_000_000
/** Outlines that reach farther are no carton's, mm. */
const farthest = 20_000

interface Placed {
  readonly mark: PaintMark
  readonly effect: Effect
  /** Of the groups around it. */
  readonly clips: readonly Clip[]
  readonly bounds: Bounds
  /** It is its outline and nothing else. */
  isPlain: boolean
  /** What lies below it is never taken away by it. */
  readonly isGentle: boolean
}

/**
 * Sorts out what is drawn by outlines alone and lies on top of all that is not, and follows it exactly.
 * @returns null where there are too many outlines
 */
export function markEdges(
  marks: readonly Mark[],
  effectOf: EffectOf,
  task: Task | undefined,
): MarkEdges | null {
  const all: Placed[] = []
  place(marks, plainly, effectOf, all)
  sink(all)
  const plain = all.filter(one => one.isPlain)
  if (plain.reduce((sum, { mark }) => sum + mark.path.points.length, 0) > mostPoints) return null
  return {
    steps: stepsOf(
      plain.filter(({ effect }) => effect !== 'leaves'),
      task,
    ),
    marks: new Set(plain.map(({ mark }) => mark)),
    isAll: plain.length === all.length,
  }
}

/** What the groups around marks say of them. */
interface Around {
  readonly clips: readonly Clip[]
  readonly isPlain: boolean
  /** They are laid over what lies around the groups, or are in any case by a way that darkens, or by no other than normal. */
  readonly isOpen: boolean
  readonly isGentle: boolean
  readonly isNormal: boolean
}

const plainly: Around = { clips: [], isPlain: true, isOpen: true, isGentle: false, isNormal: true }

function place(marks: readonly Mark[], around: Around, effectOf: EffectOf, out: Placed[]): void {
  for (const mark of marks) {
    const clips = mark.clip === null ? around.clips : [...around.clips, mark.clip]
    const isGentle = around.isGentle || (around.isOpen && darkening.has(mark.blend))
    const isNormal = around.isNormal && mark.blend === 'normal'
    if (mark.kind === 'group') {
      const isPlain = around.isPlain && isPlainGroup(mark)
      // What is mixed in other colours has inks only once it is laid down.
      const told = mark.blending === undefined ? effectOf : untold(effectOf)
      const isOpen = around.isOpen && !mark.isolated && !mark.knockout
      place(mark.marks, { clips, isPlain, isOpen, isGentle, isNormal }, told, out)
      continue
    }
    const effect = effectOf(mark)
    const bounds = markBounds(mark)
    if (effect === 'absent' || isNowhere(bounds)) continue
    const isPlain =
      around.isPlain &&
      effect !== null &&
      isSolid(mark) &&
      mark.paint.kind === 'tints' &&
      bounds.every(side => Math.abs(side) < farthest)
    // Between what was there and what is strong enough itself all amounts are.
    const adds = isGentle || (isNormal && effect === 'lays')
    out.push({ mark, effect: effect ?? 'takes', clips, bounds, isPlain, isGentle: adds })
  }
}

const untold =
  (effectOf: EffectOf): EffectOf =>
  mark =>
    effectOf(mark) === 'absent' ? 'absent' : null

const isSolid = ({ alpha, blend, softMask }: Look): boolean =>
  alpha === 1 && blend === 'normal' && softMask === null

/** Whether the marks of a group may as well be laid one by one into what lies around it. */
const isPlainGroup = (group: GroupMark): boolean =>
  isSolid(group) &&
  !group.knockout &&
  group.blending === undefined &&
  (!group.isolated || !anyOverprint(group.marks))

const anyOverprint = (marks: readonly Mark[]): boolean =>
  marks.some(mark => (mark.kind === 'group' ? anyOverprint(mark.marks) : mark.overprint))

/** Ways of mixing that take no ink away. */
const darkening: ReadonlySet<string> = new Set(['multiply', 'darken', 'colorBurn'])

/**
 * What something else lies on is looked at together with that. From the top, so that what sinks takes along all that it
 * lies on in turn.
 */
function sink(all: readonly Placed[]): void {
  const sunk: Placed[] = []
  for (const one of all.toReversed()) {
    if (one.isPlain)
      one.isPlain =
        one.effect === 'leaves' ||
        !sunk.some(over => meets(over.bounds, one.bounds) && !(one.effect === 'lays' && over.isGentle))
    if (!one.isPlain) sunk.push(one)
  }
}

/** What lies one on another, opposite to it, comes after it; all else at once. */
function stepsOf(shapes: readonly Placed[], task: Task | undefined): readonly EdgeStep[] {
  const index = boxIndex(shapes.flatMap(({ bounds }) => bounds))
  const levels = new Int32Array(shapes.length)
  for (const [i, { bounds, effect }] of shapes.entries())
    for (const j of index.touching(...bounds)) {
      if (j >= i) continue
      levels[i] = Math.max(levels[i]!, levels[j]! + (shapes[j]!.effect === effect ? 0 : 1))
    }
  const most = levels.reduce((a, b) => Math.max(a, b), 0)
  const maker = new MarkRings()
  const steps: EdgeStep[] = []
  for (let level = 0; level <= most; level++)
    for (const wanted of ['lays', 'takes'] as const) {
      checkCancelled(task)
      const rings: Rings[] = []
      for (const [i, { mark, clips, effect }] of shapes.entries())
        if (levels[i] === level && effect === wanted) rings.push(maker.of(mark, clips))
      if (rings.some(one => one.length > 0)) steps.push({ lays: wanted === 'lays', rings: united(rings) })
    }
  return steps
}
