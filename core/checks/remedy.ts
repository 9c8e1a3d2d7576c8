import type { Amount, RoleName, Target } from '../roles/role.ts'
import type { Remedy } from './finding.ts'
import type { CheckInput } from './input.ts'

/** Edits that checks offer: what the button says, and what `core/job/remedies.ts` does with the values. */
export const remedies = {
  setRole: ({ kind, id }: Target, role: RoleName, says: string): Remedy => ({
    name: 'set-role',
    says,
    values: { kind, id, role },
  }),
  readAmount: ({ kind, id }: Target, role: RoleName, from: ReadFrom, says: string): Remedy => ({
    name: 'read-amount',
    says,
    values: { kind, id, role, from },
  }),
  /** @param hits 1 to 9 */
  printHits: ({ kind, id }: Target, hits: number): Remedy => ({
    name: 'print-hits',
    says: hits === 2 ? 'Print the white twice' : `Print the white ${hits} times`,
    values: { kind, id, hits },
  }),
  /** @param kind of the target, which may be an outline of the job */
  effectParameter: (
    target: { readonly kind: string; readonly id: string },
    parameter: string,
    value: number,
    says: string,
  ): Remedy => ({
    name: 'effect-parameter',
    says,
    values: { kind: target.kind, id: target.id, parameter, value },
  }),
  plainEffect: ({ kind, id }: { readonly kind: string; readonly id: string }): Remedy => ({
    name: 'plain-effect',
    says: 'Make it one plain grating',
    values: { kind, id },
  }),
  /** @param under ids of the layers that get it, at least one */
  makeWhite: (under: readonly string[]): Remedy => ({
    name: 'make-white',
    says: 'Make a white under all print',
    values: { under: under.join('\n') },
  }),
  panelSize: (widthMm: number, heightMm: number): Remedy => ({
    name: 'panel-size',
    says: `Make the panel ${Number(widthMm.toFixed(2))} × ${Number(heightMm.toFixed(2))} mm`,
    values: { widthMm, heightMm },
  }),
} as const

/** Ways of reading a layer's amount that need no ink to be named. */
export type ReadFrom = Exclude<Amount['from'], 'ink' | 'plane'>

/** More hits than this cost more time on the press than another white. */
export const mostHits = 4

/** The layer or channel that a white plate of the map comes from; null where two of its name print white. */
export function whiteTarget(
  { art, assigned }: Pick<CheckInput, 'art' | 'assigned'>,
  name: string,
): { readonly target: Target; readonly amount: Amount } | null {
  const named = assigned.filter(
    ({ target: { kind, id }, role }) =>
      role === 'white' &&
      (kind === 'layer' ? art.layers : art.channels).some(one => one.id === id && one.name === name),
  )
  return named.length === 1 ? named[0]! : null
}

/** The only white printed more often; null where there are several, none, or it prints often enough. */
export function moreHits(
  input: Pick<CheckInput, 'art' | 'assigned' | 'map'>,
  enough: (hits: number) => boolean = () => true,
): Remedy | null {
  const [white, ...more] = input.map.whites
  // A white that nobody measured first wants its opacity.
  if (white === undefined || more.length > 0 || white.assumed) return null
  const found = whiteTarget(input, white.name)
  if (found === null) return null
  for (let hits = white.hits + 1; hits <= mostHits; hits++)
    if (enough(hits)) return remedies.printHits(found.target, hits)
  return null
}
