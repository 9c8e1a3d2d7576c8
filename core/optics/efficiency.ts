import { shareCap } from './cap.ts'
import type { Grating } from './matter.ts'
import { groovePhase, orderShare, vectorFactor } from './order-share.ts'

export { besselJ, facing, groovePhase, orderShare, vectorFactor } from './order-share.ts'

type Relief = Pick<Grating, 'groove' | 'pitch' | 'grooveDepth'>

/**
 * Share of the power in order m against a perfect mirror, inside the coat: P·F, held to what there is to deal out
 * ({@link shareCap}). Times the metal's reflectance it is the efficiency. Of the orders that leave the coat, first ones
 * of sinusoids from 714 nm pitch on are within 3 % of rigorous solutions, rectangular ones within 0.06; rectangular and
 * blazed reliefs finer than 1000 nm are 10–30 % off in single orders.
 * @param q q_l + q_v, see {@link groovePhase}
 */
export function orderPower(relief: Relief, m: number, λ: number, q: number, coat: number): number {
  const { groove, pitch, grooveDepth } = relief
  const share = orderShare(groove, m, groovePhase(λ, grooveDepth, q))
  return (share * vectorFactor(groove, m, λ, pitch, coat)) / shareCap(groove, grooveDepth, λ, pitch, coat)
}
