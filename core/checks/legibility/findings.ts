import type { CheckFinding } from '../finding.ts'
import type { CheckInput } from '../input.ts'
import { applied } from '../limits.ts'
import type { ContrastSum } from './contrast.ts'
import type { TypeJudgement } from './judge.ts'
import { legibilityLimits } from './limits.ts'
import type { TypeObject } from './object.ts'
import { missedLine, missedSize } from './size-limits.ts'
import { type HeldView, tiltOf } from './view.ts'

type Judged = Extract<TypeJudgement, { kind: 'judged' }>
type Said = Pick<CheckFinding, 'severity' | 'code' | 'message' | 'fix'> &
  Partial<Pick<CheckFinding, 'measured' | 'limit' | 'held'>>

/** What is wrong with one object. */
export function typeFindings(one: TypeJudgement, input: Pick<CheckInput, 'limits'>): readonly CheckFinding[] {
  const say = finding(one.object)
  switch (one.kind) {
    case 'outside':
      return [
        say({
          severity: 'warning',
          code: 'type-outside-art',
          message: 'all of it lies beyond the edge of the art',
          fix: 'Move it onto the art, or delete it.',
        }),
      ]
    case 'noInk':
      return [
        say({
          severity: 'warning',
          code: 'type-without-ink',
          message: 'nothing of it is printed: no plate differs between its letters and what is around them',
          fix: 'Give it an ink, bring it before what hides it, or delete it.',
        }),
      ]
    case 'judged':
      return [
        ...cutOff(one),
        ...contrastLost(one, input),
        ...exchanged(one, input),
        ...tooSmall(one, input),
        ...tooThin(one, input),
      ].map(say)
  }
}

const finding =
  (object: TypeObject) =>
  (said: Said): CheckFinding => ({
    check: 'legibility',
    key: `legibility ${said.code} ${object.key}`,
    where: `${whatOf(object)} "${object.name}"`,
    box: object.box,
    held: null,
    measured: null,
    limit: null,
    remedy: null,
    ...said,
  })

function whatOf({ kind }: TypeObject): string {
  switch (kind) {
    case 'text':
      return 'text layer'
    case 'shapes':
      return 'outlined type'
    case 'marked':
      return 'marked type'
  }
}

function cutOff({ cutOff }: Judged): readonly Said[] {
  if (!cutOff) return []
  return [
    {
      severity: 'warning',
      code: 'type-cut-by-edge',
      message: 'some of it lies beyond the edge of the art',
      fix: 'Move it inside.',
    },
  ]
}

function contrastLost(one: Judged, { limits }: Pick<CheckInput, 'limits'>): readonly Said[] {
  const { contrast, printed } = one
  if (contrast === null)
    return [
      {
        severity: 'note',
        code: 'type-never-lit',
        message: 'no view of the check shows it lit, so its contrast is not known',
        fix: 'Choose views or lamps that reach it.',
      },
    ]
  const some = applied('legibility.below', legibilityLimits['legibility.below'], limits)
  const most = applied('legibility.below-most', legibilityLimits['legibility.below-most'], limits)
  const below = 100 * contrast.below
  if (below <= Math.min(some.value, most.value)) return []
  return [
    {
      severity: below > most.value ? 'error' : 'warning',
      code: 'contrast-lost',
      message: overViews(one, contrast),
      fix: contrastFix(printed.on),
      measured: { value: below, unit: '%' },
      limit: below > most.value ? most : some,
      held: one.worst?.pose ?? null,
    },
  ]
}

/** Share below the limit, 5th percentile, worst view and share with light and dark exchanged, in words. */
function overViews({ limit, worst }: Judged, contrast: ContrastSum): string {
  const { below, fifthPercentile, least, reversed } = contrast
  const share = `its contrast is below ${number(limit.value)}:1 in ${number(100 * below)} % of all views`
  const low = `one view in twenty has ${number(fifthPercentile)}:1 or less, the worst ${number(least)}:1${worstAt(worst)}`
  const changed = reversed > 0 ? `; light and dark change places in ${number(100 * reversed)} %` : ''
  return `${share}; ${low}${changed}`
}

function worstAt(worst: HeldView | null): string {
  if (worst === null) return ''
  const { pose, under } = worst
  const lamp = under === undefined ? '' : `, under "${under}"`
  return ` at ${number(tiltOf(pose))}° of tilt, turned by ${number(pose.turnDeg)}°${lamp}`
}

function contrastFix(on: Judged['printed']['on']): string {
  switch (on) {
    case 'foil':
      return 'Print full opaque white beneath it and around it, or move it off the foil.'
    case 'white':
      return 'Raise coverage and opacity of the white beneath it, take holography away from there, or choose a darker ink.'
    case 'board':
      return 'Choose an ink that stands out more.'
  }
}

function exchanged(one: Judged, { limits }: Pick<CheckInput, 'limits'>): readonly Said[] {
  const { contrast } = one
  if (contrast === null) return []
  const limit = applied('legibility.reversed', legibilityLimits['legibility.reversed'], limits)
  const share = 100 * contrast.reversed
  if (share <= limit.value) return []
  const now = contrast.drawn === 'darker' ? 'lighter' : 'darker'
  return [
    {
      severity: 'warning',
      code: 'light-and-dark-exchanged',
      message: `drawn ${contrast.drawn} than its surroundings, it is ${now} in ${number(share)} % of all views, and in between it vanishes; ${overViews(one, contrast)}`,
      fix: contrastFix(one.printed.on),
      measured: { value: share, unit: '%' },
      limit,
      held: one.worst?.pose ?? null,
    },
  ]
}

function tooSmall({ printed, measure }: Judged, { limits }: Pick<CheckInput, 'limits'>): readonly Said[] {
  const { points, xHeightMm, from } = measure.size
  const miss = missedSize(points, printed, limits)
  if (miss === null) return []
  const read = from === 'small letters' ? 'its small letters' : 'its capitals'
  return [
    {
      severity: miss.fails ? 'error' : 'warning',
      code: 'type-too-small',
      message: `about ${number(points)} pt by ${read} (x-height ${number(xHeightMm)} mm), ${asPrinted(printed)}: at least ${number(miss.limit.value)} pt`,
      fix: 'Set it larger, print it in one ink, or give it full opaque white behind.',
      measured: { value: points, unit: 'pt' },
      limit: miss.limit,
    },
  ]
}

function tooThin({ printed, measure }: Judged, { limits }: Pick<CheckInput, 'limits'>): readonly Said[] {
  const { thinMm } = measure.strokes
  const miss = missedLine(thinMm, printed, limits)
  if (miss === null) return []
  return [
    {
      severity: miss.fails ? 'error' : 'warning',
      code: 'line-too-thin',
      message: `its thin strokes are ${number(thinMm)} mm wide, ${asPrinted(printed)}: at least ${number(miss.limit.value)} mm`,
      fix: 'Choose a heavier weight or a face without thin strokes, or set it larger.',
      measured: { value: thinMm, unit: 'mm' },
      limit: miss.limit,
    },
  ]
}

function asPrinted({ on, reversed, inks, inWhite }: Judged['printed']): string {
  const ink = `${inks > 1 ? `${inks} inks` : 'one ink'}`
  const how = reversed ? `left open in ${ink}` : `printed in ${ink}`
  switch (on) {
    case 'board':
      return `${how} on board`
    case 'white':
      return `${how} over white`
    case 'foil':
      return inWhite ? `white, ${how} on foil` : `${how} on bare foil`
  }
}

/** Three digits are enough for a reader. */
const number = (value: number): string => String(Number(value.toPrecision(value >= 100 ? 4 : 3)))
