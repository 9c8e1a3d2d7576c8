import { efficiencyRow, maxPhase, phaseColumns, type Tables } from '../optics/tables.ts'
import { capOf } from './shade-band.ts'
import { smoothness } from './smoothness.ts'

const phaseScale = ((phaseColumns - 1) / maxPhase) * 2 * Math.PI

/**
 * Share of the power in order m at one wavelength, inside the coat, without the metal: the optics' `orderPower` from
 * the tables.
 * @param groove index in the tables; |m| ≤ maxOrder
 * @param depth, pitch, λ nm
 * @param q      q_l + q_v
 */
export function orderPower(
  tables: Tables,
  groove: number,
  m: number,
  pitch: number,
  depth: number,
  λ: number,
  q: number,
): number {
  const { data } = tables.efficiency
  const { vector, freeFrom } = tables.grooves[groove]!
  const φ = Math.min((phaseScale * depth * q) / λ, phaseColumns - 1)
  const column = Math.min(φ | 0, phaseColumns - 2)
  const at = efficiencyRow(groove, m) * phaseColumns + column
  const share = data[at]! + (φ - column) * (data[at + 1]! - data[at]!)
  const reach = (m * λ) / (tables.coat * pitch)
  const lifted = smoothness(tables, q, λ) * share * (1 + vector * reach * reach)
  return pitch < freeFrom ? lifted / capOf(tables, groove, pitch, depth, λ) : lifted
}
