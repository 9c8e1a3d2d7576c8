import { BadInput, type Finding } from '../../base/finding.ts'
import { readPng } from '../../base/png-read.ts'
import { checkCancelled, type Task } from '../../base/task.ts'
import { fewestViews, mostViews, type ViewImage } from '../view-image.ts'
import { viewFrom } from './grey.ts'

export interface NamedBytes {
  readonly name: string
  readonly bytes: Uint8Array
}

/** Files of numbered pictures in the order of their numbers. */
export interface Numbered {
  /** Places in the list that was given. */
  readonly order: readonly number[]
  readonly findings: readonly Finding[]
}

/** Most pictures that are looked at; more than {@link mostViews} are thinned out evenly. */
const mostFiles = 1000

/**
 * Puts picture files in order by the last number in their names. Missing numbers are named; the pictures that are
 * there share the fan evenly. Throws BadInput for a name without a number, a number twice, one picture alone or too
 * many.
 */
export function numbered(names: readonly string[]): Numbered {
  if (names.length < fewestViews || names.length > mostFiles)
    throw refused(
      names[0] ?? 'the pictures',
      `expected ${fewestViews}..${mostFiles} pictures, got ${names.length}`,
      'Choose the pictures of all views together',
    )
  const numbers = names.map(numberOf)
  const order = names.map((_, i) => i).sort((a, b) => numbers[a]! - numbers[b]!)
  for (const [k, i] of order.entries()) {
    const before = order[k - 1]
    if (before !== undefined && numbers[before] === numbers[i])
      throw refused(names[i]!, `has the same number as ${names[before]}`, 'Choose one of the two')
  }
  const findings = gaps(order.map(i => numbers[i]!))
  if (order.length <= mostViews) return { order, findings }
  const kept = Array.from(
    { length: mostViews },
    (_, k) => order[Math.round((k * (order.length - 1)) / (mostViews - 1))]!,
  )
  return {
    order: kept,
    findings: [
      ...findings,
      {
        severity: 'note',
        code: 'views-thinned-out',
        where: `${names[order[0]!]} … ${names[order.at(-1)!]}`,
        message: `of ${order.length} pictures ${mostViews} are shown, evenly chosen`,
        fix: `Give ${mostViews} or fewer to choose them yourself.`,
      },
    ],
  }
}

/**
 * The views that numbered PNG pictures show. Each covers the whole area; a picture of another shape than the first
 * is named. Throws BadInput, naming the file that cannot be read.
 */
export async function readSequence(
  files: readonly NamedBytes[],
  task?: Task,
): Promise<{ readonly views: readonly ViewImage[]; readonly findings: readonly Finding[] }> {
  const { order, findings } = numbered(files.map(one => one.name))
  const views: ViewImage[] = []
  for (const [k, i] of order.entries()) {
    checkCancelled(task)
    const { name, bytes } = files[i]!
    task?.progress?.(k / order.length, `reading ${name}`)
    views.push(viewFrom(await readPng(bytes, name)))
  }
  return {
    views,
    findings: [
      ...findings,
      ...sizes(
        views,
        order.map(i => files[i]!.name),
      ),
    ],
  }
}

/** The last run of digits in front of the ending. */
function numberOf(name: string): number {
  const digits = /(\d+)\D*$/.exec(name.replace(/\.[^.]*$/, ''))?.[1]
  if (digits === undefined)
    throw refused(name, 'has no number in its name', 'Number the pictures in the order of the views')
  return Number(digits)
}

function gaps(numbers: readonly number[]): Finding[] {
  return numbers.slice(1).flatMap((number, i): Finding[] => {
    const before = numbers[i]!
    const missing = number - before - 1
    // Every second or tenth picture of a longer turn is no gap.
    if (missing === 0 || numbers.every((one, k) => k === 0 || one - numbers[k - 1]! === number - before))
      return []
    return [
      {
        severity: 'warning',
        code: 'views-missing',
        where: `between picture ${before} and ${number}`,
        message:
          missing === 1
            ? `number ${before + 1} is missing`
            : `numbers ${before + 1} to ${number - 1} are missing`,
        fix: 'Add them, or the object jumps there.',
      },
    ]
  })
}

function sizes(views: readonly ViewImage[], names: readonly string[]): Finding[] {
  const first = views[0]!
  return views.flatMap((view, i): Finding[] =>
    view.width === first.width && view.height === first.height
      ? []
      : [
          {
            severity: 'warning',
            code: 'view-size-differs',
            where: names[i]!,
            message: `is ${view.width} × ${view.height} pixels, ${names[0]} is ${first.width} × ${first.height}; it is stretched over the same area`,
            fix: 'Save all views at one size.',
          },
        ],
  )
}

const refused = (name: string, problem: string, fix: string): BadInput =>
  new BadInput('views-malformed', name, 'the views', problem, fix)
