import type { AppliedLimit, OwnLimits } from '../limits.ts'
import { applied } from '../limits.ts'
import type { Printed } from './ground.ts'
import { type LegibilityKey, legibilityLimits } from './limits.ts'

/** The contrast that type of a size is held to. */
export const contrastLimit = (points: number): LegibilityKey =>
  points >= largePoints ? 'legibility.contrast-large' : 'legibility.contrast'

/** Type from this size on is large, WCAG 2.2, 1.4.3. */
const largePoints = 18

export interface Missed {
  readonly limit: AppliedLimit
  readonly fails: boolean
}

/** Judges a size in points by the limits for type printed so: the plant's for its inks, and foil's own. */
export function missedSize(
  points: number,
  { on, reversed, inks, inWhite }: Printed,
  own: OwnLimits,
): Missed | null {
  const [one, more] = reversed
    ? (['legibility.size-one-reversed', 'legibility.size-more-reversed'] as const)
    : (['legibility.size-one', 'legibility.size-more'] as const)
  const keys = [
    inks > 1 ? more : one,
    ...extra({ on, inWhite }, 'legibility.size-white', 'legibility.size-foil'),
  ]
  return missed(points, keys.map(limitOf(own)), limitOf(own)(one))
}

/** The same for line weight, mm. */
export function missedLine(
  mm: number,
  { on, reversed, inks, inWhite }: Printed,
  own: OwnLimits,
): Missed | null {
  const [one, more, foil] = reversed
    ? ([
        'legibility.line-one-reversed',
        'legibility.line-more-reversed',
        'legibility.line-foil-reversed',
      ] as const)
    : (['legibility.line-one', 'legibility.line-more', 'legibility.line-foil'] as const)
  const keys = [inks > 1 ? more : one, ...extra({ on, inWhite }, null, foil)]
  return missed(mm, keys.map(limitOf(own)), limitOf(own)(one))
}

/**
 * The strictest limit that a value misses; and whether it fails by that: by what no press holds even in one ink, or by
 * what the job itself asks for. More inks need more because they have to fit, which some plants do better than others.
 */
function missed(value: number, limits: readonly AppliedLimit[], oneInk: AppliedLimit): Missed | null {
  const below = limits.filter(limit => value < limit.value)
  const [first, ...others] = below
  if (first === undefined) return null
  return {
    limit: others.reduce((a, b) => (b.value > a.value ? b : a), first),
    fails: value < oneInk.value || below.some(limit => limit.status === 'own'),
  }
}

/** White that lies in the glyphs alone backs them as well as one that reaches beyond. */
function extra(
  { on, inWhite }: Pick<Printed, 'on' | 'inWhite'>,
  white: LegibilityKey | null,
  foil: LegibilityKey,
): readonly LegibilityKey[] {
  switch (on) {
    case 'board':
      return []
    case 'white':
      return white === null ? [] : [white]
    case 'foil':
      return inWhite ? extra({ on: 'white', inWhite }, white, foil) : [foil]
  }
}

const limitOf =
  (own: OwnLimits) =>
  (key: LegibilityKey): AppliedLimit =>
    applied(key, legibilityLimits[key], own)
