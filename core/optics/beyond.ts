import type { Groove } from './groove.ts'
import { groovePhase, orderShare } from './order-share.ts'
import { maxOrder } from './tables.ts'

/** Part of the light in orders that pictures leave out, from which it is said. */
export const lostLimit = 0.02
/** Farthest order that is counted: at 380 nm the last of a 5 µm grating. */
const farthest = 27

/**
 * Share of the light in orders beyond ±maxOrder, which pictures leave out, as far as they can leave the coat at all;
 * the numbers of one spot hold them.
 * @param depth, pitch, λ nm
 * @param q q_l + q_v
 */
export function shareBeyond(groove: Groove, depth: number, pitch: number, λ: number, q: number): number {
  const φ = groovePhase(λ, depth, q)
  // Lamp and eye both grazing: the tangential parts span 2.
  const last = Math.min(farthest, Math.floor((2 * pitch) / λ))
  let sum = 0
  for (let m = maxOrder + 1; m <= last; m++) sum += orderShare(groove, m, φ) + orderShare(groove, -m, φ)
  return sum
}
