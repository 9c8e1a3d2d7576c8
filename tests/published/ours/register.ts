import type { registerLimits } from '../../../core/checks/register/limits.ts'
import { budgetOf, registerLimit } from '../../../core/checks/register/tolerance.ts'
import { ofName, ofNumbers, type Quantities } from '../row.ts'

/** How far plates may lie apart. */
export const register: Quantities = {
  'register budget': ofNumbers((...partsMm) => {
    const { worstMm, statisticalMm } = budgetOf(partsMm)
    return [worstMm, statisticalMm]
  }),
  'register limit': ofName(key => registerLimit(key as keyof typeof registerLimits, {}).value),
}
