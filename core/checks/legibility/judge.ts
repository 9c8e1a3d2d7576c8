import { checkCancelled, type Task } from '../../base/task.ts'
import type { MaterialMap } from '../../material/map.ts'
import type { BoxMm } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { type AppliedLimit, applied, type OwnLimits } from '../limits.ts'
import { type ContrastSum, sumContrast } from './contrast.ts'
import { glyphsOf } from './glyph-source.ts'
import { type Printed, printedAs } from './ground.ts'
import { type LegibilityKey, legibilityLimits } from './limits.ts'
import { type Matter, matterOf } from './matter.ts'
import { measureType, type TypeMeasure } from './measure.ts'
import type { TypeObject } from './object.ts'
import { samplesUnder } from './samples.ts'
import { contrastLimit } from './size-limits.ts'
import { spotsOf } from './spots.ts'
import type { HeldView, Luminances, Spot } from './view.ts'
import { whiteLevels } from './white-level.ts'

/** What became of one object. */
export type TypeJudgement = { readonly object: TypeObject } & (
  | { readonly kind: 'outside' }
  | { readonly kind: 'noInk' }
  | {
      readonly kind: 'judged'
      /** Of it some lies beyond the art. */
      readonly cutOff: boolean
      readonly printed: Printed
      readonly measure: TypeMeasure
      readonly limit: AppliedLimit
      /** Null where no view shows it lit. */
      readonly contrast: ContrastSum | null
      /** The view of least contrast. */
      readonly worst: HeldView | null
    }
)

export interface JudgeOptions {
  readonly views: readonly HeldView[]
  readonly luminances: Luminances
  /** What each view counts by a job's limits; as it says itself where left out. */
  readonly weights?: (limits: OwnLimits) => Float64Array
  /** Most classes of places of ink, and of ground, that are asked for their light. */
  readonly mostSpots?: number
}

/** Spots a side; more where holography differs from place to place and the mean over it must be exact. */
export const usualSpots = 12

/** Pixels of the map that are looked at for each of them. */
const pixelsASpot = 85

/** Judges one object by its size, its lines and its contrast in all views. */
export async function judgeType(
  input: CheckInput,
  object: TypeObject,
  options: JudgeOptions,
  task?: Task,
): Promise<TypeJudgement> {
  checkCancelled(task)
  const { map } = input
  const { box } = object
  const { mostSpots = usualSpots } = options
  const limit = (key: LegibilityKey) => applied(key, legibilityLimits[key], input.limits)
  if (box.rightMm <= box.leftMm || box.topMm <= box.bottomMm) return { kind: 'noInk', object }
  const inside = cutTo(box, map)
  if (inside === null) return { kind: 'outside', object }
  const glyphs = await glyphsOf(input.file, map, object, task)
  if (glyphs === null) return { kind: 'noInk', object }
  const text = object.kind === 'text' ? object.text : null
  const measure = measureType(glyphs, inside, text, limit('legibility.x-ratio').value, task)
  const under = samplesUnder(inside, map, map)
  const matter = matterOf(map, glyphs, under, limit('legibility.ring').value, pixelsASpot * mostSpots)
  const printed = matter && printedAs(matter)
  if (measure === null || matter === null || printed === null) return { kind: 'noInk', object }
  const wanted = limit(contrastLimit(measure.size.points))
  const flare = limit('legibility.flare').value
  const contrast = await contrastOf(map, input, matter, options, { limit: wanted.value, flare }, task)
  return {
    kind: 'judged',
    object,
    cutOff: inside !== box,
    printed,
    measure,
    limit: wanted,
    contrast,
    worst: contrast && options.views[contrast.worst]!,
  }
}

async function contrastOf(
  map: MaterialMap,
  { scene, sets, limits }: CheckInput,
  matter: Matter,
  { views, luminances, weights, mostSpots = usualSpots }: JudgeOptions,
  by: { readonly limit: number; readonly flare: number },
  task: Task | undefined,
): Promise<ContrastSum | null> {
  const ink = spotsOf(map, sets[0]!, matter.ink, mostSpots)
  const ground = spotsOf(map, sets[0]!, matter.ground, mostSpots)
  const quiet: Task = task?.signal ? { signal: task.signal } : {}
  const Y = await luminances([...ink, ...ground], views, quiet)
  const [x, y] = [middleOf(ink, 'xMm') - map.widthMm / 2, middleOf(ink, 'yMm') - map.heightMm / 2]
  const levels = whiteLevels(scene, sets[0]!, views, x, y)
  const factors = (mean: Float64Array) =>
    mean.map((value, v) => (levels[v]! > 0 ? value / levels[v]! : Number.NaN))
  const over = factors(meanOver(ink, Y, 0, views.length))
  const beside = factors(meanOver(ground, Y, ink.length, views.length))
  // As a designer drew it: on white board, straight on.
  const straight = { pose: { tiltForwardDeg: 0, tiltSideDeg: 0, turnDeg: 0 }, light: scene.light, weight: 1 }
  const paper = await luminances([...ink, ...ground].map(onBoard), [straight], quiet)
  const [type, around] = [meanOver(ink, paper, 0, 1)[0]!, meanOver(ground, paper, ink.length, 1)[0]!]
  const drawn = type > around * apart ? 'lighter' : around > type * apart ? 'darker' : null
  const counts = weights?.(limits)
  const counted = views.map((view, v) => ({ ...view, weight: counts?.[v] ?? view.weight }))
  return sumContrast(counted, over, beside, { ...by, drawn })
}

const middleOf = (spots: readonly Spot[], side: 'xMm' | 'yMm'): number =>
  spots.reduce((sum, spot) => sum + spot.weight * spot[side], 0) /
  spots.reduce((sum, spot) => sum + spot.weight, 0)

/** Type that differs less than this on white has no side of its own there. */
const apart = 1.05

const onBoard = (spot: Spot): Spot => ({
  ...spot,
  plates: { ...spot.plates, metal: 0, whites: spot.plates.whites.map(() => 0) },
})

/** Mean of spots by weight in each view; NaN where one of them is not seen. */
function meanOver(spots: readonly Spot[], Y: Float32Array, first: number, views: number): Float64Array {
  const out = new Float64Array(views)
  let total = 0
  for (const [s, { weight }] of spots.entries()) {
    total += weight
    for (let v = 0; v < views; v++) out[v]! += weight * Y[(first + s) * views + v]!
  }
  return out.map(sum => sum / total)
}

/** The part of a box on the art: the box itself where all of it is, null where none is. */
function cutTo(box: BoxMm, { widthMm, heightMm }: MaterialMap): BoxMm | null {
  const cut = {
    leftMm: Math.max(0, box.leftMm),
    bottomMm: Math.max(0, box.bottomMm),
    rightMm: Math.min(widthMm, box.rightMm),
    topMm: Math.min(heightMm, box.topMm),
  }
  if (cut.rightMm <= cut.leftMm || cut.topMm <= cut.bottomMm) return null
  const lost =
    box.rightMm -
    box.leftMm -
    (cut.rightMm - cut.leftMm) +
    (box.topMm - box.bottomMm - (cut.topMm - cut.bottomMm))
  return lost < rounding ? box : cut
}

/** Less than this off the edge is rounding, mm. */
const rounding = 0.05
