import type { Hinge } from './blank.ts'
import type { Outline, Point } from './die.ts'
import {
  type EndMaker,
  type EndParts,
  type Frame,
  type Levels,
  mm,
  type Refuse,
  type Strip,
} from './ends/end.ts'
import { type Pose, squaringTurns, type Turned, type Turning } from './ends/square-up.ts'
import { counterClockwise, rounded } from './outline.ts'
import { type Allowances, allowances, type SettingKey, type Sizes } from './settings.ts'
import type { CartonSpec, Measure } from './spec.ts'

export interface Ends<T> {
  readonly top: T
  readonly bottom: T
}

/** From crease to crease, and from the innermost closed leaf of one end to that of the other, all mm. */
export type BodySizes = Omit<Sizes, 'caliperMm'> & { readonly roomMm: number }

/** Board that a crease can be made in, mm, and what any side of a body may be. */
const calipers = [0.1, 3] as const
const sides = [5, 5000] as const

/** The body of a size, by how it is measured. */
export function bodySizes(spec: CartonSpec, ends: Ends<EndMaker>, refuse: Refuse): BodySizes {
  const { caliperMm: s, measure, own } = spec
  if (!(s >= calipers[0] && s <= calipers[1]))
    refuse(
      'caliper',
      `expected ${calipers[0]} to ${calipers[1]} mm, got ${s}`,
      'Enter the thickness of the board.',
    )
  for (const [name, value] of [
    ['length', spec.lengthMm],
    ['width', spec.widthMm],
    ['height', spec.heightMm],
  ] as const)
    if (!(value > 0 && value <= sides[1]))
      refuse(
        name,
        `expected more than 0 and at most ${sides[1]} mm, got ${value}`,
        'Enter the finished size.',
      )
  const slack = own.slackMm ?? 0
  const { top, bottom } = ends
  const levels = top.levels(s)['left side'] + bottom.levels(s)['left side']
  // Walls half a caliper to each side of their creases; on the right the glue flap lies inside the right side.
  const [lengthMm, widthMm] =
    measure === 'outside'
      ? [spec.lengthMm - 2 * s, spec.widthMm - s]
      : measure === 'inside'
        ? [spec.lengthMm + slack + s, spec.widthMm + slack + s]
        : [spec.lengthMm, spec.widthMm]
  const least = Math.max(sides[0], 6 * s)
  const room = (name: string, value: number): void => {
    if (!(value >= least))
      refuse(
        name,
        `${mm(value)} is left between creases, and a board of ${mm(s)} needs ${mm(least)}`,
        `Make the ${name} larger or the board thinner.`,
      )
  }
  room('length', lengthMm)
  room('width', widthMm)
  const allow = allowances({ lengthMm, widthMm, heightMm: spec.heightMm, caliperMm: s }, own)
  const faces = [top, bottom].map(end => end.faces({ caliper: s, width: widthMm, allow }))
  const deep = (of: 'inner' | 'outer') => faces.reduce((sum, one) => sum + one[of], 0)
  const roomMm =
    measure === 'outside'
      ? spec.heightMm - deep('outer')
      : measure === 'inside'
        ? spec.heightMm + deep('inner')
        : spec.heightMm - levels
  room('height', roomMm)
  return { lengthMm, widthMm, heightMm: roomMm + levels, roomMm }
}

/** Allowances that any body is drawn with. */
export const bodyUses = (measure: Measure): readonly SettingKey[] => [
  'glueMm',
  'glueTaperDeg',
  'glueMarginMm',
  'lastShortMm',
  'easeMm',
  'bleedMm',
  ...(measure === 'inside' ? (['slackMm'] as const) : []),
]

export function stripOf({ lengthMm, widthMm }: BodySizes, caliper: number, allow: Allowances): Strip {
  const last = widthMm - allow.lastShortMm
  const left = allow.glueMm + lengthMm
  const front = left + widthMm
  const right = front + lengthMm + caliper
  return {
    caliper,
    back: lengthMm,
    width: widthMm,
    last,
    creases: [allow.glueMm, left, front, right, right + last],
  }
}

/** When the body folds: three walls, the glue flap, then the right side onto it. */
const evenTurns: Readonly<Record<Turned, Turning>> = {
  'left side': { begins: 0, ends: 0.25 },
  back: { begins: 0, ends: 0.25 },
  'glue flap': { begins: 0.12, ends: 0.28 },
  'right side': { begins: 0.28, ends: 0.44 },
}

/** Least width of the glue flap at its free edge, and the cut that frees the ends of its crease, mm. */
const narrowestGlue = 3
const relief = 1

export interface BodyWork {
  readonly strip: Strip
  readonly allow: Allowances
  readonly frames: Ends<Frame>
  readonly levels: Ends<Levels>
  /** How far from each end's innermost leaf the glue flap stays, mm. */
  readonly rises: Ends<number>
  readonly poses: readonly Pose[] | undefined
  readonly room: number
  readonly refuse: Refuse
}

/** The four walls and the glue flap. */
export function wallsOf({
  strip,
  allow,
  frames,
  levels,
  rises,
  poses,
  room,
  refuse,
}: BodyWork): Omit<EndParts, 'reach' | 'risesMm'> {
  const { caliper, width, creases, last } = strip
  const spanOf = (panel: keyof Levels) => ({
    low: frames.bottom.at(panel, 0, levels.bottom[panel])[1],
    high: frames.top.at(panel, 0, levels.top[panel])[1],
  })
  const wall = (name: keyof Levels, from: number, to: number) => {
    const { low, high } = spanOf(name)
    const outline: Outline = [
      [from, low],
      [to, low],
      [to, high],
      [from, high],
    ]
    return { name, outline }
  }
  const crease = (
    parent: string,
    child: string,
    x: number,
    [low, high]: readonly [number, number],
    turn: Turning,
  ): Hinge => ({ name: child, parent, child, from: [x, low], to: [x, high], closedDeg: 90, ...turn })
  const shared = (a: keyof Levels, b: keyof Levels) =>
    [Math.max(spanOf(a).low, spanOf(b).low), Math.min(spanOf(a).high, spanOf(b).high)] as const

  const most = width - 1.5 * caliper - allow.easeMm
  if (allow.glueMm > most)
    refuse(
      'glue flap',
      `it is ${mm(allow.glueMm)} wide, and the side it lies on has room for ${mm(Math.max(0, most))}`,
      `Set it to ${mm(Math.max(0, most))} or less, or make the carton wider.`,
    )
  // Under the innermost leaves of both ends.
  const free = (rise: number) => Math.max(caliper / 2 + allow.easeMm, relief, rise)
  const glueSpan = [free(rises.bottom), room - free(rises.top)] as const
  const lean = Math.min(
    Math.tan((allow.glueTaperDeg * Math.PI) / 180) * allow.glueMm,
    (glueSpan[1] - glueSpan[0] - narrowestGlue) / 2,
  )
  if (lean < 0)
    refuse('height', `${mm(room)} leaves no glue flap between the ends`, 'Make the carton higher.')
  const flap: Outline = rounded([
    [creases[0], glueSpan[0]],
    [creases[0], glueSpan[1]],
    [0, glueSpan[1] - lean, 1],
    [0, glueSpan[0] + lean, 1],
  ])
  const margin = Math.min(allow.glueMarginMm, allow.glueMm / 4)
  const zone: Outline = [
    [creases[0] - margin, glueSpan[0] + 2 * margin],
    [creases[0] - margin, glueSpan[1] - 2 * margin],
    [margin, glueSpan[1] - lean - margin],
    [margin, glueSpan[0] + lean + margin],
  ]
  const backAndRight = shared('back', 'right side')
  const turns = poses === undefined ? evenTurns : squaringTurns(poses)
  return {
    panels: [
      { name: 'glue flap', outline: counterClockwise(flap) },
      wall('back', creases[0], creases[1]),
      wall('left side', creases[1], creases[2]),
      wall('front', creases[2], creases[3]),
      wall('right side', creases[3], creases[3] + last),
    ],
    hinges: [
      crease('front', 'left side', creases[2], shared('left side', 'front'), turns['left side']),
      crease('left side', 'back', creases[1], shared('back', 'left side'), turns.back),
      crease('back', 'glue flap', creases[0], glueSpan, turns['glue flap']),
      crease('front', 'right side', creases[3], shared('front', 'right side'), turns['right side']),
    ],
    rules: {},
    glue: [counterClockwise(zone)],
    meetings: backAndRight.map((y, i) => ({
      name: `seam, ${i === 0 ? 'lower' : 'upper'} corner`,
      a: { panel: 'right side', at: [creases[4], y] satisfies Point },
      b: { panel: 'back', at: [creases[0], y] satisfies Point },
    })),
  }
}
