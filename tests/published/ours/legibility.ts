import { contrastRatio, relativeLuminance } from '../../../core/checks/legibility/contrast.ts'
import { legibilityLimits } from '../../../core/checks/legibility/limits.ts'
import { contrastLimit, missedLine, missedSize } from '../../../core/checks/legibility/size-limits.ts'
import { ofNumbers, type Quantities } from '../row.ts'

const grey = (code: number) => relativeLuminance([code / 255, code / 255, code / 255])

/** Contrast of type. */
export const legibility: Quantities = {
  'screen contrast': ofNumbers((one, other) =>
    contrastRatio(grey(one!), grey(other!), legibilityLimits['legibility.flare'].usual),
  ),
  'screen luminance': ofNumbers(code => grey(code!)),
  'screen luminance of a colour': ofNumbers((r, g, b) => relativeLuminance([r! / 255, g! / 255, b! / 255])),
  'least contrast': ofNumbers(points => legibilityLimits[contrastLimit(points!)].usual),
  'least type size': ofNumbers(
    (inks, reversed) =>
      missedSize(0, { on: 'board', reversed: reversed === 1, inks: inks!, inWhite: false }, {})!.limit.value,
  ),
  'least line': ofNumbers(
    (inks, reversed) =>
      missedLine(0, { on: 'board', reversed: reversed === 1, inks: inks!, inWhite: false }, {})!.limit.value,
  ),
}
