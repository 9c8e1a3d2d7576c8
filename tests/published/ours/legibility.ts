import { contrastRatio, relativeLuminance } from '../../../core/checks/legibility/contrast.ts'
import { legibilityLimits } from '../../../core/checks/legibility/limits.ts'
import { ofNumbers, type Quantities } from '../row.ts'

const grey = (code: number) => relativeLuminance([code / 255, code / 255, code / 255])

/** Contrast of type. */
export const legibility: Quantities = {
  'screen contrast': ofNumbers((one, other) =>
    contrastRatio(grey(one!), grey(other!), legibilityLimits['legibility.flare'].usual),
  ),
  'screen luminance': ofNumbers(code => grey(code!)),
}
