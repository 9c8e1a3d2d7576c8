import { type AppliedLimit, applied, type OwnLimits } from '../limits.ts'
import type { Group } from './groups.ts'
import { registerLimits } from './limits.ts'

/** Two groups that have to fit; the first is the one whose edges are followed. */
export const pairs = [
  ['colour', 'white'],
  ['holography', 'white'],
  ['holography', 'colour'],
  ['die', 'colour'],
  ['die', 'white'],
  ['die', 'holography'],
] as const satisfies readonly (readonly [Group, Group])[]
export type Pair = (typeof pairs)[number]

/** What may lie between two groups, of one kind each. */
export interface PairTolerance {
  /** Of the offset, any way, mm ≥ 0. */
  readonly offsetMm: number
  /** Radians, either way. */
  readonly turn: number
  /** Part of the length, either way. */
  readonly stretch: number
}

/** Names the tolerance of a pair among the limits. */
export const pairKey = ([a, b]: Pair): keyof typeof registerLimits =>
  `register.${a}-${b}` as keyof typeof registerLimits

export const registerLimit = (key: keyof typeof registerLimits, own: OwnLimits): AppliedLimit =>
  applied(key, registerLimits[key], own)

export function toleranceOf(pair: Pair, own: OwnLimits): PairTolerance {
  return {
    offsetMm: registerLimit(pairKey(pair), own).value,
    turn: (registerLimit('register.turn', own).value * Math.PI) / 180,
    stretch: registerLimit('register.stretch', own).value / 100,
  }
}

/** What several tolerances come to: one beside the other at worst, and as they fall by chance. */
export interface Budget {
  /** Their sum, mm. */
  readonly worstMm: number
  /** The root of the sum of their squares, mm: right where they do not depend on each other. */
  readonly statisticalMm: number
}

export function budgetOf(partsMm: readonly number[]): Budget {
  return {
    worstMm: partsMm.reduce((sum, part) => sum + part, 0),
    statisticalMm: Math.sqrt(partsMm.reduce((sum, part) => sum + part * part, 0)),
  }
}

/** The budget of a pair at a distance from the middle that it is turned and stretched about, mm. */
export const budgetAt = ({ offsetMm, turn, stretch }: PairTolerance, distanceMm: number): Budget =>
  budgetOf([offsetMm, turn * distanceMm, stretch * distanceMm])
