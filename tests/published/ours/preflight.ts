import { limitOf } from '../../../core/checks/preflight/found.ts'
import { xHeightLimit } from '../../../core/checks/preflight/x-height.ts'
import { pointsOf } from '../../../core/checks/type-size.ts'
import { ofNumbers, type Quantities } from '../row.ts'

/** What the preflight judges by, as a job without limits of its own has it. */
export const preflight: Quantities = {
  'type size': ofNumbers((xHeightMm, ratio) => pointsOf(xHeightMm!, ratio!)),
  'least x-height': ofNumbers(faceCm2 => xHeightLimit(faceCm2!, limitOf({ limits: {} })).value),
  trap: () => limitOf({ limits: {} })('preflight.trap').value,
}
