import type { Task } from '../../base/task.ts'
import type { PanelPose } from '../../reference/scene.ts'
import type { BoxMm } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import type { AppliedLimit } from '../limits.ts'
import { usualGrid, viewsOf } from '../sweep/view-grid.ts'
import type { ContrastSum } from './contrast.ts'
import type { Printed } from './ground.ts'
import type { TypeJudgement } from './judge.ts'
import type { TypeMeasure } from './measure.ts'
import { judgeLegibility } from './part.ts'
import { usualNeeds } from './usual.ts'

/** How all type of a job reads in all views: what plots and maps are drawn from. Plain values, so that it can travel. */
export interface LegibilityResult {
  /** Names of the lamps that a view tells by index. */
  readonly lamps: readonly string[]
  readonly views: readonly { readonly lamp: number; readonly pose: PanelPose }[]
  /** The lowest type first. */
  readonly objects: readonly TypeResult[]
  /** Objects beyond the most that are judged. */
  readonly leftOut: number
}

/** One piece of type. */
export interface TypeResult {
  /** The same that the keys of its findings end with. */
  readonly key: string
  readonly name: string
  readonly box: BoxMm
  /** Part of the views in which it cannot be read, 0..1: its value on a heat map of the carton; null where that is not known. */
  readonly heat: number | null
  /** Null where all of it lies beyond the art, or nothing of it is printed. */
  readonly read: TypeReading | null
}

export interface TypeReading {
  readonly printed: Printed
  readonly measure: TypeMeasure
  /** The contrast that it is held to. */
  readonly limit: AppliedLimit
  /** Its indices are of the result's views; null where no view shows it lit. */
  readonly contrast: ContrastSum | null
}

/** Judges all type of a job in the usual views. Throws Cancelled. */
export async function legibilityResult(input: CheckInput, task?: Task): Promise<LegibilityResult> {
  const grid = usualGrid(input.scene)
  const { judged, leftOut } = await judgeLegibility(input, usualNeeds(input), task)
  return {
    lamps: grid.lamps.map(({ name }) => name),
    views: viewsOf(grid).map(({ lamp, pose }) => ({ lamp, pose })),
    objects: judged.map(resultOf),
    leftOut,
  }
}

function resultOf(one: TypeJudgement): TypeResult {
  const { key, name, box } = one.object
  if (one.kind !== 'judged') return { key, name, box, heat: null, read: null }
  const { printed, measure, limit, contrast } = one
  return { key, name, box, heat: contrast?.below ?? null, read: { printed, measure, limit, contrast } }
}
