import { checkCancelled, type Task } from '../../base/task.ts'
import type { BoxMm, CheckFinding } from '../finding.ts'
import type { CheckInput, CheckPart } from '../input.ts'
import { kept } from '../keeper.ts'
import { applied } from '../limits.ts'
import type { MarkedArea } from '../marked.ts'
import { matterWord } from '../sweep/matter-word.ts'
import { typeFindings } from './findings.ts'
import { type JudgeOptions, judgeType, type TypeJudgement } from './judge.ts'
import { legibilityLimits } from './limits.ts'
import { type TypeObject, typeObjects } from './object.ts'

/** What the check needs besides the job as it was worked out. */
export interface LegibilityNeeds extends JudgeOptions {
  /** Type marked by hand. */
  readonly marked: readonly MarkedArea[]
}

/** All type of a job, judged; and how much was left out. */
export interface LegibilityReport {
  readonly judged: readonly TypeJudgement[]
  /** Objects beyond the most that are judged. */
  readonly leftOut: number
}

/** Judges all type, the lowest first. Throws Cancelled. */
export async function judgeLegibility(
  input: CheckInput,
  needs: LegibilityNeeds,
  task?: Task,
): Promise<LegibilityReport> {
  const all = typeObjects(input.art, input.assigned, input.map, needs.marked)
  const most = applied('legibility.objects', legibilityLimits['legibility.objects'], input.limits).value
  const objects = [...all].sort((a, b) => height(a) - height(b)).slice(0, most)
  const judged: TypeJudgement[] = []
  for (const [i, object] of objects.entries()) {
    checkCancelled(task)
    task?.progress?.(i / objects.length, `reading "${object.name}"`)
    judged.push(await judgedOnce(input, object, needs, task))
  }
  task?.progress?.(1, 'reading type')
  return { judged, leftOut: all.length - objects.length }
}

/**
 * What was judged of an object before, where neither it nor what lies beneath and around it has changed: an edit
 * elsewhere on the carton leaves its light as it was.
 */
function judgedOnce(
  input: CheckInput,
  object: TypeObject,
  needs: LegibilityNeeds,
  task: Task | undefined,
): Promise<TypeJudgement> | TypeJudgement {
  const beside = applied('legibility.ring', legibilityLimits['legibility.ring'], input.limits).value + 1
  const keys = [JSON.stringify(object), needs.mostSpots, matterWord(input.map, grown(object.box, beside))]
  return kept(input, `legibility, ${object.key}`, keys, ({ file, map, scene, sets, limits }) =>
    // Of the planes it reads what the word is of.
    judgeType(
      { ...input, file, map: { ...map, planes: input.map.planes }, scene, sets, limits },
      object,
      needs,
      task,
    ),
  )
}

const grown = (box: BoxMm, by: number): BoxMm => ({
  leftMm: box.leftMm - by,
  bottomMm: box.bottomMm - by,
  rightMm: box.rightMm + by,
  topMm: box.topMm + by,
})

const height = ({ box }: TypeObject): number => Math.min(box.topMm - box.bottomMm, box.rightMm - box.leftMm)

/** What is wrong with the type of a report. */
export function legibilityFindings(
  { judged, leftOut }: LegibilityReport,
  input: CheckInput,
): readonly CheckFinding[] {
  return [...judged.flatMap(one => typeFindings(one, input)), ...tooMany(judged.length, leftOut, input)]
}

/** Legibility as one of the checks. */
export function legibilityPart(needs: (input: CheckInput) => LegibilityNeeds): CheckPart {
  return {
    name: 'legibility',
    says: 'type against what is around it, over all views; its size and its lines',
    run: async (input, task) => legibilityFindings(await judgeLegibility(input, needs(input), task), input),
  }
}

function tooMany(count: number, leftOut: number, { limits }: CheckInput): readonly CheckFinding[] {
  if (leftOut === 0) return []
  const limit = applied('legibility.objects', legibilityLimits['legibility.objects'], limits)
  return [
    {
      check: 'legibility',
      key: 'legibility too-much-type',
      severity: 'warning',
      code: 'too-much-type',
      where: 'the art',
      message: `it has ${count + leftOut} pieces of type; the ${count} lowest were judged and ${leftOut} were not`,
      fix: 'Put text that belongs together into one layer, or raise the number of pieces that are judged.',
      box: null,
      held: null,
      measured: { value: count + leftOut, unit: '' },
      limit,
      remedy: null,
    },
  ]
}
