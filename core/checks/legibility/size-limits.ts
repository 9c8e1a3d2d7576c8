import type { AppliedLimit, OwnLimits } from '../limits.ts'
import { applied } from '../limits.ts'
import type { Printed } from './ground.ts'
import { type LegibilityKey, legibilityLimits } from './limits.ts'

/** The limits that hold for type printed so: the plant's for its inks, and foil's own. */
export function sizeLimits({ on, reversed, inks }: Printed, own: OwnLimits): readonly AppliedLimit[] {
  const plant: LegibilityKey = `legibility.size-${inks > 1 ? 'more' : 'one'}${reversed ? '-reversed' : ''}`
  return [plant, ...extra(on, 'legibility.size-white', 'legibility.size-foil')].map(limitOf(own))
}

/** The same for line weight. */
export function lineLimits({ on, reversed, inks }: Printed, own: OwnLimits): readonly AppliedLimit[] {
  const plant: LegibilityKey = `legibility.line-${inks > 1 ? 'more' : 'one'}${reversed ? '-reversed' : ''}`
  const foil: LegibilityKey = reversed ? 'legibility.line-foil-reversed' : 'legibility.line-foil'
  return [plant, ...extra(on, null, foil)].map(limitOf(own))
}

/** The strictest limit that a value misses, and whether one of them is more than a starting value of ours. */
export function missed(
  value: number,
  limits: readonly AppliedLimit[],
): { readonly limit: AppliedLimit; readonly firm: boolean } | null {
  const below = limits.filter(limit => value < limit.value)
  const [first, ...others] = below
  if (first === undefined) return null
  return {
    limit: others.reduce((a, b) => (b.value > a.value ? b : a), first),
    firm: below.some(limit => limit.status !== 'proposed'),
  }
}

function extra(
  on: Printed['on'],
  white: LegibilityKey | null,
  foil: LegibilityKey,
): readonly LegibilityKey[] {
  switch (on) {
    case 'board':
      return []
    case 'white':
      return white === null ? [] : [white]
    case 'foil':
      return [foil]
  }
}

const limitOf =
  (own: OwnLimits) =>
  (key: LegibilityKey): AppliedLimit =>
    applied(key, legibilityLimits[key], own)
